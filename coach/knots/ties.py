"""The cord and room of ties that repeat: in rows, sennits, nets and round neighbours.

All diameters are contact diameters in mm. Figures worked out by tightening hold for equal
diameters (clove hitches also for holders half to three times the knotter). The formulas carry
them to others through the length of a turn, which is geometry; everything else grows with the
knotter's diameter, a choice of ours.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import atan, cos, degrees, pi, radians, sin
from typing import Final

from coach.knots import names
from coach.knots.packing import Hull, bundle_hull, flat_hull, turn_mm

COMPRESSION: Final = 0.78
"""Contact diameter / nominal diameter, from the printed net of square knots (modern handbook, title
page not seen; probably Mullins & Ryan-Raison, *Macramé for Beginners and Beyond*, 2017)."""
COMPRESSION_RANGE: Final = (0.7, 0.95)
"""How far cords differ in it; harder cord is nearer 1. Worked out from the same net."""
FILLER_GAIN: Final = 1.03
"""Cord in a filler or holder per length covered; worked out by tightening."""
SPIRAL_FILLER_GAIN: Final = 1.05
"""The same in a twisting sennit (1.03 to 1.07); worked out by tightening."""


class NotTiedSoError(ValueError):
    """A knot in a place where the trade does not tie it."""

    def __init__(self, knot: str, place: str) -> None:
        super().__init__(f"No figures for {knot or 'a step without a knot'} {place}.")


@dataclass(frozen=True, slots=True)
class TieSize:
    """Cord and room of one tie, in mm.

    `knotter_use_mm` has one entry per knotter, in the order given; `filler_use_mm` is for each
    strand that is tied round; `across_mm` is the room across the work, `down_mm` along it.
    """

    knotter_use_mm: tuple[float, ...]
    filler_use_mm: float
    across_mm: float
    down_mm: float


@dataclass(frozen=True, slots=True)
class Slant:
    """A tie of a slanting row, in mm: column width, drop to the next column, rows' distance."""

    across_mm: float
    drop_mm: float
    apart_mm: float


@dataclass(frozen=True, slots=True)
class _Figures:
    """Cord and room in knotter's diameters, beyond `turns` bare turns."""

    turns: int
    rest: float
    pitch: float
    depth: float = 0.0  # q less one holder, in rows


_ROWS: Final = {
    names.CLOVE: _Figures(2, 6.25, 2.88, 1.8),
    names.HALF_HITCH: _Figures(1, 2.7, 2.0, 1.0),
    names.LARKS_HEAD: _Figures(2, 21.4 - 4 * pi, 3.0, 2.82),
}
_AROUND: Final = {
    names.HALF_HITCH: _Figures(1, 4.7, 2.0),
    names.LARKS_HEAD: _Figures(2, 8.6, 4.0),
    names.CLOVE: _Figures(2, 3.3 + 3.5, 3.5),
}
_IN_TURN: Final = _Figures(1, 3.8, 2.0)
_UNTURNED: Final = {
    names.REVERSE_CLOVE: names.CLOVE,
    names.REVERSE_LARKS_HEAD: names.LARKS_HEAD,
}
_SQUARES: Final = (names.SQUARE, names.REVERSE_SQUARE)


def held_mm(run_mm: float) -> float:
    """Return the cord a holder or filler needs to run that far through ties: 1.03 times the run.

    Worked out by tightening (sennits and clove hitches).
    """
    return FILLER_GAIN * run_mm


def row_tie(knot: str, knotter_mm: float, filler_mm: float, *, mover_holds: bool) -> TieSize:
    """Return the size of one tie of a row: one strand tied onto another.

    Cord per knotter, worked out by tightening at equal diameters: clove hitch 2 pi (D + d) +
    6.25 d (18.8 d), half hitch pi (D + d) + 2.7 d (9.0 d, 3 %), lark's head 21.4 d as two turns
    and the rest (20.7 to 21.5 d by how the row is pulled). p along the strand that is tied round:
    2.88, 2.0, 3.0 d. q beside it: 1.8 d + D (4 %), d + D, 2.82 d + D, the last two split so that
    they meet 2.0 and 3.82 d.

    Args:
        knot: The knot's first name.
        knotter_mm: Diameter d of the strand that ties.
        filler_mm: Diameter D of the strand it ties onto.
        mover_holds: Whether the travelling strand is the holder, so that p lies across and q down.
            Where it knots instead (reverse knots, and half hitches that travel) the same fabric
            stands turned by a quarter: the knotter gains q across and covers p of each crossed
            filler down.

    Raises:
        NotTiedSoError: The knot makes no such row.
    """
    if knot not in (names.HOLDER_ROWS if mover_holds else names.KNOTTER_ROWS):
        raise NotTiedSoError(knot, "in a row of this kind")
    figures = _ROWS[_UNTURNED.get(knot, knot)]
    use = figures.turns * pi * (filler_mm + knotter_mm) + figures.rest * knotter_mm
    p, q = figures.pitch * knotter_mm, figures.depth * knotter_mm + filler_mm
    across, down = (p, q) if mover_holds else (q, p)
    return TieSize((use,), held_mm(p), across, down)


def natural_slope_deg(tie: TieSize) -> float:
    """Return the slope, in degrees, of a row whose knotters leave square to it: atan(p / q).

    Geometry of rows that each take a new holder from the same side.
    """
    return degrees(atan(tie.across_mm / tie.down_mm))


def slanted(tie: TieSize, slope_deg: float | None = None) -> Slant:
    """Return a tie of a row laid at a slope.

    Geometry: columns p cos wide, p sin of drop a tie, rows q / cos apart down the work, which at
    the natural slope is sqrt(p^2 + q^2). Cord used is that of the level row.

    Args:
        tie: The tie in a level row.
        slope_deg: From 0 to below 90 degrees; None for its natural slope.

    Raises:
        ValueError: The slope is out of range.
    """
    slope = natural_slope_deg(tie) if slope_deg is None else slope_deg
    if not 0 <= slope < 90:  # noqa: PLR2004 - a right angle
        raise ValueError(f"A row cannot slope by {slope:g} degrees; 0 to below 90 is possible.")
    angle = radians(slope)
    return Slant(tie.across_mm * cos(angle), tie.across_mm * sin(angle), tie.down_mm / cos(angle))


def flat_tie(
    knot: str,
    knotters_mm: tuple[float, float],
    fillers_mm: Sequence[float],
    *,
    spiral: bool = False,
    nested: bool = False,
    bundled: bool = False,
) -> TieSize:
    """Return the size of one square knot or half knot, or of the reverse of one.

    Square knot, per knotter: a turn round the fillers + 2.8 pi d, 4.8 pi d + hull at equal
    diameters (3 %); down 4.0 d in a sennit, 2.62 d where alternating rows nest. A half
    knot is half of that. In a twisting run of half knots it is 1.70 d high, with 0.98
    of the knotter and 1.05 of the filler, about 40 degrees a knot. Worked out by tightening, two
    to four equal strands in the middle.

    Width: the fillers side by side + 1.72 d for each knotter; from the printed net, whose 72 ends
    of 3 mm are 24.5 cm wide (modern handbook, probably Mullins & Ryan-Raison, *Macramé for
    Beginners and Beyond*, 2017). A filler runs 1.03 times the knot's own height, nested or not.
    With knotters of two diameters each makes its own turn, and what they share goes with their
    mean.

    Args:
        knot: The knot's first name.
        knotters_mm: Diameters of the two knotters.
        fillers_mm: Diameters of the fillers, which lie flat in this order unless `bundled`.
        spiral: Whether half knots twist; square knots never do.
        nested: Whether the knot nests under those of an alternating row above.
        bundled: Whether the fillers are drawn into a bundle, as under a clasp round many strands.

    Raises:
        NotTiedSoError: It is neither a square knot nor a half knot.
    """
    if knot not in names.FLAT_KNOTS:
        raise NotTiedSoError(knot, "with two knotters round fillers")
    share = 1.0 if knot in _SQUARES else 0.5
    hull = bundle_hull(fillers_mm) if bundled else flat_hull(fillers_mm)
    core = hull.diameter_mm if bundled else sum(fillers_mm)
    mean = sum(knotters_mm) / 2
    uses = [share * (turn_mm(k, hull) + 2.8 * pi * mean) for k in knotters_mm]
    across = core + 3.44 * mean
    if spiral and share < 1:
        down = 1.70 * mean
        return TieSize(tuple(0.98 * use for use in uses), SPIRAL_FILLER_GAIN * down, across, down)
    height = 4.0 * mean * share
    down = 2.62 * mean * share if nested else height
    return TieSize(tuple(uses), held_mm(height), across, down)


def around_tie(knot: str, knotter_mm: float, around_mm: Sequence[float]) -> TieSize:
    """Return the size of one tie round neighbours that are drawn into a bundle.

    The neighbours keep their places. Cord per knotter: half hitch a turn + 4.7 d (1 %), lark's
    head two turns + 8.6 d (0.5 %), each with its advance; clove hitch two turns + 3.3 d (2 %) +
    its pitch. Pitch 2.0, 4.0 and 3.5 d. Worked out by tightening. The reverse knots are as large.
    Width: the bundle's and two knotters', rough: no print and no tightening stands behind it.

    Args:
        knot: The knot's first name.
        knotter_mm: Diameter of the strand that ties.
        around_mm: Diameters of the strands inside.

    Raises:
        NotTiedSoError: The knot is not tied that way.
    """
    if knot not in names.AROUND_KNOTS:
        raise NotTiedSoError(knot, "round neighbours")
    figures = _AROUND[_UNTURNED.get(knot, knot)]
    hull = bundle_hull(around_mm)
    return _around(figures, knotter_mm, hull)


def chain_tie(knotter_mm: float, other_mm: float) -> TieSize:
    """Return the size of one hitch of a chain, two strands hitching round each other in turn.

    A turn round the other strand, pi (D + d) + 3.8 d, pitch 2.0 d: with the 2.06 d that the strand
    then takes as the other one's filler it meets the 12.14 d of cord that a strand uses in two
    hitches. Worked out by tightening, both strands equal and pulled alike; less than round a
    straight filler, since the strand that is hitched round gives way.
    """
    return _around(_IN_TURN, knotter_mm, bundle_hull((other_mm,)))


def _around(figures: _Figures, knotter_mm: float, hull: Hull) -> TieSize:
    use = figures.turns * turn_mm(knotter_mm, hull) + figures.rest * knotter_mm
    pitch = figures.pitch * knotter_mm
    return TieSize((use,), held_mm(pitch), hull.diameter_mm + 2 * knotter_mm, pitch)
