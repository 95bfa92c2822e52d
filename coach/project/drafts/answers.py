"""The maker's answers from which a new project file is written."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final


@dataclass(frozen=True, slots=True)
class DraftCord:
    """One cord as answered; `colour` and `diameter` are texts for the file."""

    name: str
    colour: str
    diameter: str


@dataclass(frozen=True, slots=True)
class Answers:
    """The answers about a new piece.

    `kind` is one of `coach.project.drafts.designs.DESIGNS`, `on` what it hangs on, `length` a text
    for the file, `knots` the favourite knots in their order.
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
