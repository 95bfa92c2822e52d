"""Cord and room of knots that are tied once: overhand, barrel, gathering, berry, josephine.

All diameters are contact diameters in mm.
"""

from collections.abc import Sequence
from math import ceil, hypot, pi
from typing import Final

from coach.knots import names
from coach.knots.packing import bundle_hull, turn_mm
from coach.knots.ties import TieSize, flat_tie, held_mm

_OVERHAND_EXCESS: Final = 3.3 * pi
_OVERHAND_PITCH: Final = 2.9
_PLAIT_CROSSING: Final = 1.53
_NEAR: Final = 1e-9


def overhand(bundle_mm: Sequence[float], turns: int = 1) -> TieSize:
    """Give a bundle knotted on itself with one turn, two (double overhand), or more (barrel).

    One strand, one turn: 3.3 pi d more than the straight (10.35 d), height 2.4 to 3.4 d, here
    2.9 d; worked out by tightening. A bundle is taken as one strand of the same girth, and each
    further turn as a turn of it round itself with a return of one diameter, 2 pi D + D, standing
    one D high: rough, no print and no tightening stands behind these two. Nothing is a filler.

    Raises ValueError when there is no turn.
    """
    if turns < 1:
        raise ValueError("A knot of a strand on itself needs at least one turn.")
    thick = bundle_hull(bundle_mm).diameter_mm
    excess = (_OVERHAND_EXCESS + (turns - 1) * (2 * pi + 1)) * thick
    height = (_OVERHAND_PITCH + turns - 1) * thick
    return TieSize((excess + height,) * len(bundle_mm), 0.0, 3 * thick, height)


def barrel(knotter_mm: float, around_mm: Sequence[float], turns: int) -> TieSize:
    """Give turns of a strand round a bundle, its end passed back under them.

    More than the straight by turns (hull + 2 pi d) + the coil's length, turns d, for the way
    back; the bundle holds the returning end too. Three turns round two: 30.85 d, within the 28.7
    to 31.8 d worked out by tightening by how the end returns (7 %). Height: turns d (3.0-3.5 d).
    With nothing in `around_mm` the strand is turned on itself, see `overhand`.

    Raises ValueError when there is no turn.
    """
    if not around_mm:
        return overhand((knotter_mm,), turns)
    if turns < 1:
        raise ValueError("A barrel knot needs at least one turn.")
    hull = bundle_hull((*around_mm, knotter_mm))
    coil = turns * knotter_mm
    use = turns * turn_mm(knotter_mm, hull) + 2 * coil
    return TieSize((use,), held_mm(coil), hull.diameter_mm + 2 * knotter_mm, coil)


def gathering_turns(wrap_mm: float, length_mm: float) -> int:
    """Give how many turns, one beside the other, cover that length; at least one. Geometry."""
    return max(1, ceil(length_mm / wrap_mm - _NEAR))


def gathering(wrap_mm: float, bundle_mm: Sequence[float], length_mm: float) -> TieSize:
    """Give a separate cord wrapped round a bundle over a length; the wrap is the knotter.

    Each turn is a helix turn sqrt(turn^2 + d^2) (geometry) round the bundle and the two legs of
    the loop that lies under the turns, and those legs take 2 L. That the turns lie close and the
    bundle is round is ours: rough, no print and no tightening stands behind the sum. The wrap's
    two ends are tails and not in it.
    """
    hull = bundle_hull((*bundle_mm, wrap_mm, wrap_mm))
    wound = gathering_turns(wrap_mm, length_mm) * hypot(turn_mm(wrap_mm, hull), wrap_mm)
    across = hull.diameter_mm + 2 * wrap_mm
    return TieSize((wound + 2 * length_mm,), held_mm(length_mm), across, length_mm)


def berry(knotters_mm: tuple[float, float], fillers_mm: Sequence[float], squares: int) -> TieSize:
    """Give that many square knots rolled up on themselves, and one more that locks the roll.

    Per knotter squares + 1 square knots and the way down the back of the roll; per filler the
    sennit, the way down the back and the lock. The roll is a sennit of length S bent into a ring,
    S / pi across its middle, plus its own thickness, one filler and two knotters. Built on the
    square knot's worked-out figures, but the roll is ours: rough, no print and no tightening
    stands behind it.

    Raises ValueError when there is no square knot.
    """
    if squares < 1:
        raise ValueError("A berry knot needs at least one square knot.")
    square = flat_tie(names.SQUARE, knotters_mm, fillers_mm)
    roll = squares * square.down_mm / pi + max(fillers_mm) + sum(knotters_mm)
    uses = tuple((squares + 1) * use + roll for use in square.knotter_use_mm)
    filler = (squares + 1) * square.filler_use_mm + roll
    return TieSize(uses, filler, square.across_mm, roll + square.down_mm)


def josephine(left_mm: Sequence[float], right_mm: Sequence[float]) -> TieSize:
    """Give a left and a right half interlaced flat; every strand is a knotter, left ones first.

    Each half is a band of strands side by side. With W the mean width of the two bands a strand
    passes eight crossings, each as long as in a tight plait, 1.53 W, and bends once half round,
    pi W; the knot is 4 W high and 5 W wide. Only the plait's crossing is worked out; the rest is
    read off a flat drawing of the knot: rough, no print and no tightening stands behind it, and
    how far the knot is drawn up is the maker's choice.
    """
    band = (sum(left_mm) + sum(right_mm)) / 2
    use = (8 * _PLAIT_CROSSING + pi) * band
    return TieSize((use,) * (len(left_mm) + len(right_mm)), 0.0, 5 * band, 4 * band)
