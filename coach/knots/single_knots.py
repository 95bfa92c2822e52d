"""The cord and room of knots tied once: overhand, barrel, gathering, berry, josephine.

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
_BUNDLE_POWER: Final = 0.46
_ROLL: Final = 0.11
_NEAR: Final = 1e-9


def overhand(bundle_mm: Sequence[float], turns: int = 1) -> TieSize:
    """Return the size of a bundle knotted on itself.

    One strand, one turn: 3.3 pi d more than the straight (10.35 d), height 2.4 to 3.4 d, here
    2.9 d; worked out by tightening. A bundle is as high as one strand D with as much cord in its
    cross-section, since its strands lie anew wherever it bends. Where it turns round itself they
    lie closer still: its excess is that of a strand n ** 0.46 d thick (3 % for one to eight
    strands), and each further turn a turn of that round itself with a return of one diameter,
    2 pi D + D (3 %); worked out by tightening, but for the height. Nothing is a filler.

    Args:
        bundle_mm: The diameters of the strands in the bundle.
        turns: 1 for an overhand knot, 2 for a double overhand, more for a barrel knot.

    Raises:
        ValueError: `turns` is below 1.
    """
    if turns < 1:
        raise ValueError("A knot of a strand on itself needs at least one turn.")
    thick = hypot(*bundle_mm)
    close = sum(strand ** (1 / _BUNDLE_POWER) for strand in bundle_mm) ** _BUNDLE_POWER
    excess = (_OVERHAND_EXCESS + (turns - 1) * (2 * pi + 1)) * close
    height = (_OVERHAND_PITCH + turns - 1) * thick
    return TieSize((excess + height,) * len(bundle_mm), 0.0, 3 * thick, height)


def barrel(knotter_mm: float, around_mm: Sequence[float], turns: int) -> TieSize:
    """Return the size of a barrel knot: turns round a bundle, the end passed back under them.

    More than the straight by turns (hull + 2 pi d) + the coil's length, turns d, for the way
    back; the bundle holds the returning end too. Three turns round two: 30.85 d, within the 28.7
    to 31.8 d worked out by tightening by how the end returns (7 %). Height: turns d (3.0-3.5 d).

    Args:
        knotter_mm: Diameter of the strand that is turned.
        around_mm: Those of the strands inside; none for a strand turned on itself, see `overhand`.
        turns: How many turns, at least 1.

    Raises:
        ValueError: `turns` is below 1.
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
    """Return how many turns side by side cover a length; at least one. Geometry."""
    return max(1, ceil(length_mm / wrap_mm - _NEAR))


def gathering(wrap_mm: float, bundle_mm: Sequence[float], length_mm: float) -> TieSize:
    """Return the size of a gathering knot, a separate cord wrapped round a bundle.

    The wrap is the knotter. Each turn is a helix turn sqrt(turn^2 + d^2) (geometry) round the
    bundle and the two legs of the loop that lies under the turns, and those legs take 2 L. Worked
    out by tightening for two to four turns round one to seven equal strands, the loop half way
    under (5 %). The two ends of the wrap are tails and not included.

    Args:
        wrap_mm: Diameter of the cord that is wrapped.
        bundle_mm: Those of the strands inside.
        length_mm: The length of the wrapping along the bundle.
    """
    hull = bundle_hull((*bundle_mm, wrap_mm, wrap_mm))
    wound = gathering_turns(wrap_mm, length_mm) * hypot(turn_mm(wrap_mm, hull), wrap_mm)
    across = hull.diameter_mm + 2 * wrap_mm
    return TieSize((wound + 2 * length_mm,), held_mm(length_mm), across, length_mm)


def berry(knotters_mm: tuple[float, float], fillers_mm: Sequence[float], squares: int) -> TieSize:
    """Return the size of a berry knot: square knots rolled up, and one more that locks the roll.

    The roll of a sennit of length S stands 0.11 S + 4.6 d high; over that height a knotter takes
    its square knots less 2 d, a filler its sennit and 3.1 d of its own. Worked out by tightening
    for two to four square knots round two equal fillers, all ends pulled (5 %). The lock is one
    more square knot as in a sennit, close under the roll, and a knotter runs down at each side:
    rough, since the locked whole has not been tightened. d is the mean of the knotters.

    Args:
        knotters_mm: Diameters of the two knotters.
        fillers_mm: Diameters of the fillers.
        squares: How many square knots are rolled up, at least 1.

    Raises:
        ValueError: `squares` is below 1.
    """
    if squares < 1:
        raise ValueError("A berry knot needs at least one square knot.")
    square = flat_tie(names.SQUARE, knotters_mm, fillers_mm)
    mean = sum(knotters_mm) / 2
    roll = _ROLL * squares * square.down_mm + 4.6 * mean
    uses = tuple((squares + 1) * use + roll - 2 * mean for use in square.knotter_use_mm)
    filler = (squares + 1) * square.filler_use_mm + roll + 3.1 * max(fillers_mm)
    across = square.across_mm + sum(knotters_mm)
    return TieSize(uses, filler, across, roll + square.down_mm)


def josephine(left_mm: Sequence[float], right_mm: Sequence[float], open_mm: float = 0.0) -> TieSize:
    """Return the size of a josephine knot, a left and a right half interlaced flat.

    Every strand is a knotter, those of the left half first. Each half is a band of strands side by
    side. With W the mean width of the two bands and d the mean of their strands, a strand takes
    7.5 W + 6.15 d more than the straight, and the knot is 3.4 W high and 4.6 W + 1.4 d wide. Worked
    out by tightening, flat on the board with its ends pulled, for one to three equal strands a half
    (3 %; its size for one and two). Laid open, all its curves are larger in the same ratio and as
    much longer (geometry).

    Args:
        left_mm: Diameters of the strands of the left half.
        right_mm: Those of the right half.
        open_mm: How high the maker lays the knot open; it is never smaller than drawn up.
    """
    strands = (*left_mm, *right_mm)
    band, thick = sum(strands) / 2, sum(strands) / len(strands)
    tight = 3.4 * band
    larger = max(1.0, open_mm / tight)
    use = (7.5 * band + 6.15 * thick + tight) * larger
    across = (4.6 * band + 1.4 * thick) * larger
    return TieSize((use,) * len(strands), 0.0, across, tight * larger)
