"""The names of strands: by where they hang on the board and by their cord."""

import re
from collections.abc import Mapping, Sequence
from functools import lru_cache
from itertools import pairwise

from coach.plan.plan_model import Plan, PlannedStep
from coach.project.model import Cord
from coach.text import join_words, plural
from coach.yaml_reader.colours import is_hex, nearest_colour_name

_WORD = re.compile(r"\w+")


def colour_word(cord: Cord) -> str:
    """Return the word for a cord's colour: as its file writes it, else the nearest name.

    A colour that the file leaves out is only drawn with; it has no name, so this is "".
    """
    return nearest_colour_name(cord.colour) if is_hex(cord.colour_name) else cord.colour_name


def not_in_name(name: str, *texts: str) -> str:
    """Return texts to add to a name, without those that the name says already.

    A cord called linen, of the colour linen and of linen, needs no further word.
    """
    named = set(_WORD.findall(name.casefold()))
    words = [set(_WORD.findall(text.casefold())) for text in texts]
    said = [
        own <= named or own in words[:place] or any(own < other for other in words)
        for place, own in enumerate(words)
    ]
    return " ".join(text for text, twice in zip(texts, said, strict=True) if not twice)


def cord_look(cord: Cord) -> str:
    """Return a cord's colour, fibre and thickness, without what its name says already."""
    return f"{not_in_name(cord.id, colour_word(cord), cord.fibre)} {thickness(cord)}".strip()


def thickness(cord: Cord) -> str:
    """Return how thick a cord is, and whether that is only estimated from its weight."""
    return (
        f"{cord.diameter_mm:g} mm"
        if not cord.estimated
        else f"about {cord.diameter_mm:g} mm by weight"
    )


def strand_words(plan: Plan, strand: int, order: Sequence[int]) -> str:
    """Return a strand's full name, `strand 6 (tide)`.

    Args:
        plan: The plan that the strand is of.
        strand: Which of its strands.
        order: The strands from the left, as they hang. One that is not among them is named by its
            cord alone: `the tide strand`, or `the length of tide` where it is tied round others.
    """
    cord, origin = plan.strands[strand].cord, plan.strands[strand].origin
    if strand in order:
        return f"strand {order.index(strand) + 1} ({cord})"
    return f"the length of {cord}" if origin in ("wrap", "clasp") else f"the {cord} strand"


def strand_short(plan: Plan, strand: int, order: Sequence[int]) -> str:
    """Return a strand's short name, for use beside the board's numbers: `6 tide`.

    Args:
        plan: The plan.
        strand: The strand.
        order: The strands from the left; one that is not among them is named by its cord alone.
    """
    cord = plan.strands[strand].cord
    return f"{order.index(strand) + 1} {cord}" if strand in order else cord


def strand_label(plan: Plan, strand: int) -> str:
    """Return a strand's name in files and on cutting labels: `clay.2b`."""
    return plan.strands[strand].id


def span_words(positions: Sequence[int]) -> str:
    """Return positions in the order they are met: `3 to 5`, `5 down to 3`, `1, 3 and 4`."""
    if not positions:
        return "none"
    steps = {after - before for before, after in pairwise(positions)}
    if len(positions) > 2 and steps in ({1}, {-1}):  # noqa: PLR2004 - two are named each
        return f"{positions[0]} {'to' if steps == {1} else 'down to'} {positions[-1]}"
    return join_words([str(position) for position in positions])


def strands_at(positions: Sequence[int]) -> str:
    """Return strands by where they hang: `strand 5`, `strands 2 to 8`, `no strands`."""
    if not positions:
        return "no strands"
    return f"{plural('strand', len(positions))} {span_words(positions)}"


def strands_met(plan: Plan, step: PlannedStep, strands: Sequence[int]) -> str:
    """Return strands by their positions at the start of a step, in the order they are met.

    One is named with its cord, `strand 2 (clay)`; several are `strands 2 to 4` or `all strands`.

    Args:
        plan: The plan.
        step: The step.
        strands: The strands, in the order met.
    """
    if len(strands) == 1:
        return strand_words(plan, strands[0], step.before)
    return "all strands" if is_all(step, strands) else strands_at(positions_of(step, strands))


def is_all(step: PlannedStep, strands: Sequence[int]) -> bool:
    """Return whether strands are all that hang at the start of a step, and more than one."""
    return len(step.before) > 1 and set(strands) == set(step.before)


def positions_of(step: PlannedStep, strands: Sequence[int]) -> list[int]:
    """Return where strands hang at the start of a step; those not on the board are left out."""
    at = _positions(step.before)
    return [at[strand] for strand in strands if strand in at]


@lru_cache(maxsize=8)  # asked for each group of a step in turn, and for the next count again
def _positions(order: tuple[int, ...]) -> Mapping[int, int]:
    return {strand: position for position, strand in enumerate(order, start=1)}
