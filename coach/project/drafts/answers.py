"""What a maker says of a piece before there is a file of it."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final


@dataclass(frozen=True, slots=True)
class DraftCord:
    """One cord as it was answered: `colour` and `diameter` as they are to be written."""

    name: str
    colour: str
    diameter: str


@dataclass(frozen=True, slots=True)
class Answers:
    """What a maker said of the piece.

    `kind` is one of `coach.project.drafts.designs.DESIGNS`, `on` what it hangs on, `length` as it
    is to be written, `knots` the favourites in their order.
    """

    title: str
    kind: str
    on: str
    cords: Sequence[DraftCord]
    strands: int
    length: str
    knots: Sequence[str]


FIRST: Final = DraftCord("reed", "#5b7f3a", "2 mm")
"""The cord of a maker who names none."""
