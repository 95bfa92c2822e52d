"""Cords and pieces as a project file names them."""

from dataclasses import dataclass
from typing import Literal

from coach.quantities import mass_of_g
from coach.yaml_reader.diagnostics import Span

Fold = Literal["middle", "fit", "none"]


@dataclass(frozen=True, slots=True)
class Cord:
    """One cord: how it looks and how it is cut.

    `colour` is what it is drawn in, chosen for it where the file gives none; then `colour_name`
    is "". `fibre` is "" where it is not known, `pieces` None where they are left out,
    `fineness_tex` None where the file does not say what the cord weighs. Where the file states only
    the weight, the thickness is `estimated` from it.
    """

    id: str
    span: Span
    colour: str  # "#rrggbb"
    colour_name: str  # as written
    fibre: str
    diameter_mm: float
    pieces: int | None = None
    fold: Fold = "middle"
    tail_mm: float = 100.0
    lead_mm: float = 0.0
    fineness_tex: float | None = None
    estimated: bool = False

    def mass_g(self, length_mm: float) -> float | None:
        """Return the weight of a length of it in g, None where that is not known."""
        return mass_of_g(length_mm, self.fineness_tex) if self.fineness_tex else None


@dataclass(frozen=True, slots=True)
class ListedPiece:
    """A piece in a list of pieces; `number` is only set where `strands:` gives it."""

    cord: str
    span: Span
    number: int | None = None
