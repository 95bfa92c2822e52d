"""What strands are called on the screen: position, cord and colour."""

from collections.abc import Sequence
from itertools import pairwise

from coach.plan.plan_model import Plan, PlannedStep
from coach.project.model import Cord
from coach.yaml_reader.colour_names import plain_name
from coach.yaml_reader.colours import is_hex


def colour_word(cord: Cord) -> str:
    """Return what a cord's colour is called: as its file writes it, else by the nearest name.

    A colour that the file leaves out is only drawn with; it has no name, so this is "".
    """
    return plain_name(cord.colour) if is_hex(cord.colour_name) else cord.colour_name


def cord_words(cord: Cord) -> str:
    """Return what a cord looks like as far as the file says it: `brown cotton 2 mm`."""
    known = (colour_word(cord), cord.fibre, f"{cord.diameter_mm:g} mm")
    return " ".join(filter(None, known))


def strand_words(plan: Plan, strand: int, order: Sequence[int]) -> str:
    """Return a strand's position in `order`, cord and colour: `3 clay (brown)`."""
    cord = plan.project.cords[plan.strands[strand].cord]
    colour = colour_word(cord)
    shade = "" if colour in ("", cord.id) else f" ({colour})"
    place = f"{order.index(strand) + 1} " if strand in order else ""
    return f"{place}{cord.id}{shade}"


def strand_label(plan: Plan, strand: int) -> str:
    """Return a strand's own name, which it keeps wherever it hangs: `clay.2b`."""
    return plan.strands[strand].id


def span_words(positions: Sequence[int]) -> str:
    """Return positions in the order they are met: `3 to 5`, `5 to 3`, `1, 3 and 4`."""
    if not positions:
        return "none"
    steps = {after - before for before, after in pairwise(positions)}
    if len(positions) > 2 and steps in ({1}, {-1}):  # noqa: PLR2004 - two are named each
        return f"{positions[0]} to {positions[-1]}"
    names = [str(position) for position in positions]
    return " and ".join([", ".join(names[:-1]), names[-1]] if len(names) > 1 else names)


def positions_of(step: PlannedStep, strands: Sequence[int]) -> list[int]:
    """Return where strands stand at the start of a step; those not on the board are left out."""
    at = {strand: position for position, strand in enumerate(step.before, start=1)}
    return [at[strand] for strand in strands if strand in at]
