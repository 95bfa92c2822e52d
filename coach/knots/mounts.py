"""The cord and the room that mounting a piece takes, and plaiting.

All diameters of cords are contact diameters in mm.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import pi, sqrt
from typing import Final

from coach.knots import names
from coach.knots.packing import bundle_hull
from coach.knots.ties import NotTiedSoError

PINNED: Final = "pinned"
LOOPED: Final = "looped through"
PIN_MM: Final = 1.0
"""Thickness of a pin when nothing is said; common practice, no source."""
_PLAIT_REACH: Final = 1.105
_PLAIT_PITCH: Final = 1.00


@dataclass(frozen=True, slots=True)
class Mounting:
    """Cord that mounting takes of each whole piece, and the width of it all, in mm."""

    piece_use_mm: tuple[float, ...]
    width_mm: float

    @property
    def strand_width_mm(self) -> float:
        """Width per strand, two strands to a piece."""
        return self.width_mm / (2 * len(self.piece_use_mm))


@dataclass(frozen=True, slots=True)
class PlaitCrossing:
    """One crossing of a three-strand plait, in mm; `strand_use_mm` is for each of the three."""

    strand_use_mm: float
    pitch_mm: float
    width_mm: float
    thickness_mm: float


def mount(by: str, bar_mm: float, cords_mm: Sequence[float]) -> Mounting:
    """Return the cord and width of pieces mounted together.

    By a lark's head (or a reverse one), or `looped through`: per piece 5.25 (D + d) + 4.3 d over
    its two drops from the bar's middle (1.2 %) and 4.0 d of width, worked out by tightening for one
    piece; several are taken as one strand of the same girth: rough.

    `pinned`: half a turn, pi / 2 (D + d) for the innermost piece and round those within it for
    the others; side by side as wide as the strands are: geometry.

    Args:
        by: How they hang: a knot's name, `looped through` or `pinned`.
        bar_mm: The thickness of what the fold goes round.
        cords_mm: The diameters of the pieces folded together, the outermost first.

    Raises:
        NotTiedSoError: There is no such way of hanging.
    """
    if by in (names.LARKS_HEAD, names.REVERSE_LARKS_HEAD, LOOPED):
        thick = bundle_hull(cords_mm).diameter_mm
        use = 5.25 * (bar_mm + thick) + 4.3 * thick
        return Mounting((use,) * len(cords_mm), 4.0 * thick)
    if by == PINNED:
        return Mounting(_half_turns(bar_mm, cords_mm), 2 * sum(cords_mm))
    raise NotTiedSoError(by, "as a way of hanging cords")


def _half_turns(pin_mm: float, cords_mm: Sequence[float]) -> tuple[float, ...]:
    uses: list[float] = []
    within = pin_mm
    for cord in reversed(cords_mm):
        uses.append(pi / 2 * (within + cord))
        within += 2 * cord
    return tuple(reversed(uses))


def plait_take_up(pitch: float = _PLAIT_PITCH) -> float:
    """Return strand per length of a three-strand plait: sqrt(p^2 + 1.105^2) / p.

    `pitch` p is the length of a crossing in strand diameters. Geometry of a strand that goes
    1.105 d sideways a crossing, fitted to plaits worked out by tightening for p = 1.0 to 2.0
    (3 % at the tightest, 1 % from 1.1 on); at p = 1.105 it goes at 45 degrees, sqrt(2).
    """
    return sqrt(pitch**2 + _PLAIT_REACH**2) / pitch


def plait_size(bundles_mm: Sequence[Sequence[float]], pitch: float = _PLAIT_PITCH) -> PlaitCrossing:
    """Return one crossing of a plait of three bundles, at a pitch in strand diameters.

    Pitch 1.00 d when tight, 3.1 d wide and 2.06 d thick, worked out by tightening for three equal
    strands. A bundle counts as a strand of the same girth, and unequal ones with their mean:
    rough.
    """
    thick = sum(bundle_hull(bundle).diameter_mm for bundle in bundles_mm) / len(bundles_mm)
    run = pitch * thick
    return PlaitCrossing(run * plait_take_up(pitch), run, 3.1 * thick, 2.06 * thick)
