"""How a knot is tied, in words with drawings, begun on either side."""

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final, Literal

from coach.knots import names
from coach.knots.catalogue import CATALOGUE
from coach.knots.diagram import Diagram
from coach.knots.stages import STAGES
from coach.text import counted

Side = Literal["left", "right"]

_BEGUN_RIGHT: Final = (names.REVERSE_SQUARE, names.REVERSE_HALF_KNOT)
_SIDED: Final = re.compile(r"\b(left|right)\b", re.IGNORECASE)
_OTHER: Final = {"left": "right", "right": "left", "Left": "Right", "Right": "Left"}


@dataclass(frozen=True, slots=True)
class ExplanationStage:
    """The words of one or more moves, numbered from `first`, and the cords when they are made."""

    first: int
    words: tuple[str, ...]
    diagram: Diagram


@dataclass(frozen=True, slots=True)
class KnotExplanation:
    """How one knot is tied, begun on one side. `roles` says which strand does what."""

    knot: str
    said_as: str
    side: Side
    roles: str
    caution: str
    stages: tuple[ExplanationStage, ...]


def own_side(knot: str) -> Side:
    """Return the side on which a knot is begun by its name alone."""
    return "right" if knot in _BEGUN_RIGHT else "left"


def explain_knot(knot: str, side: Side | None = None) -> KnotExplanation:
    """Return how a knot is tied, begun on `side` or on the knot's own side.

    A square knot begun on the right is the reverse square knot, and has that name.

    Raises:
        KeyError: This is not the first name of a knot.
    """
    mirror = side is not None and side != own_side(knot)
    if mirror and knot in names.MIRRORED:
        return explain_knot(names.MIRRORED[knot])
    entry = CATALOGUE[knot]
    stages = tuple(
        ExplanationStage(
            stage.steps[0] + 1,
            tuple(_told(entry.steps[step], mirror) for step in stage.steps),
            stage.diagram.mirrored() if mirror else stage.diagram,
        )
        for stage in STAGES[knot]
    )
    return KnotExplanation(
        knot, entry.said_as, side or own_side(knot), _told(entry.roles, mirror),
        _told(entry.caution, mirror), stages,
    )  # fmt: skip


def explain_own_knot(
    knot: str, strands: int, moves: Sequence[str], order: Sequence[int] = ()
) -> KnotExplanation:
    """Return how a knot of the maker's own is tied, in her words and without drawings.

    Args:
        knot: Its name.
        strands: How many it ties together.
        moves: How it is tied, a sentence for each move; none where the file does not say.
        order: The order of its strands below it, by old position; none where they keep their
            places, 0 alone where they are reversed.
    """
    told = " ".join(f"{number}. {move}" for number, move in enumerate(moves, start=1))
    rest = told or "The file does not say how it is tied."
    roles = f"Your own knot of {counted(strands, 'strand')}. {rest}"
    if list(order) == [0]:
        order = range(strands, 0, -1)
    if list(order) != sorted(order):
        roles += f" Below it the strands are, from the left: {', '.join(map(str, order))}."
    return KnotExplanation(knot, "", "left", roles, "", ())


def begun_over(told: KnotExplanation) -> KnotExplanation:
    """Return a hitch whose knotter goes over first: over and under are swapped."""
    stages = tuple(
        replace(
            stage,
            words=tuple(_WAYS.sub(lambda way: _OTHER_WAY[way[0]], line) for line in stage.words),
            diagram=stage.diagram.seen_from_behind(),
        )
        for stage in told.stages
    )
    return replace(told, stages=stages)


_WAYS: Final = re.compile(r"\b(under|over)\b")
_OTHER_WAY: Final = {"under": "over", "over": "under"}


def _told(words: str, mirror: bool) -> str:
    """Return words with left and right swapped where the knot is mirrored."""
    return _SIDED.sub(lambda found: _OTHER[found[0]], words) if mirror else words
