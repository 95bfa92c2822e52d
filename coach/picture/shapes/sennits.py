"""Half knots and square knots: the bight on the side begun, both bars; runs of halves turn.

A half knot is laid out in space and seen from the front, so that a twisting run shows its
front, its edge and its back in turn. Lengths in mm; the origin is in the middle of the top.
"""

from functools import lru_cache
from math import cos, radians, sin
from typing import Final, TypeAlias

from coach.knots import names
from coach.picture.scene import Point, Shape, Stretch, mirrored_shape
from coach.picture.shapes.curves import Vertex, course, shape

Spot: TypeAlias = tuple[float, float, float]
"""Across from the middle as a share of the side, down as a share of the height, and how far
toward the viewer in knotter's diameters."""

_OVER: Final[tuple[Spot, ...]] = (
    (-1, 0, 0.7), (-1, 0.26, 0.7), (-0.72, 0.5, 1.1), (0.0, 0.53, 1.25), (0.72, 0.56, 1.1),
    (1.0, 0.8, 0.7), (1, 1, 0.7),
)  # fmt: skip
_UNDER: Final[tuple[Spot, ...]] = (
    (1, 0, 1.5), (1.06, 0.3, 1.7), (1.06, 0.62, 1.7), (0.6, 0.74, -1.2), (-0.6, 0.5, -1.2),
    (-0.86, 0.2, -0.2), (-1.1, 0.18, 1.7), (-1.14, 0.6, 1.7), (-1, 1, 1.5),
)  # fmt: skip
_BODY: Final = 3.3  # height in knotter's diameters that two half knots take when drawn up
_BEGUN_RIGHT: Final = (names.REVERSE_SQUARE, names.REVERSE_HALF_KNOT)
_SQUARES: Final = (names.SQUARE, names.REVERSE_SQUARE)
_TURN_DEG: Final = 40.0
_FEWEST: Final = 5


def twist_deg(ties: int) -> float:
    """Return how far each half knot of a run turns, in degrees.

    About 40 a knot (worked out by tightening); a long run is drawn in whole turns, as its maker
    turns it to go on.
    """
    return round(ties * _TURN_DEG / 360 + 0.01) * 360 / ties if ties >= _FEWEST else 0.0


class _Laid:
    """Where a run of flat knots lies: its side, and its turn down the way."""

    def __init__(self, side_mm: float, deep_mm: float, degrees: tuple[float, float]) -> None:
        self.side_mm = side_mm
        self.deep_mm = deep_mm
        self.degrees = degrees

    def seen(self, x_mm: float, z_mm: float, share: float, y_mm: float) -> Vertex:
        """Return a point as seen, its layer by how near it is."""
        first, last = self.degrees
        turn = radians(first + (last - first) * share)
        near = -x_mm * sin(turn) + z_mm * cos(turn)
        layer = round(near / self.deep_mm * 2)
        return x_mm * cos(turn) + z_mm * sin(turn), y_mm, layer


def _half(
    laid: _Laid, who: tuple[int, int], wide: tuple[float, float], top: float, high: float
) -> list[Stretch]:
    """Lay one half knot begun on the left: `who` goes over and who under, and their looks."""
    own: list[Stretch] = []
    for strand, look, spots in zip(who, wide, (_OVER, _UNDER), strict=True):
        line = [
            laid.seen(x * laid.side_mm, z * laid.deep_mm, y, top + y * high) for x, y, z in spots
        ]
        own += course(strand, line, look)
    return own


@lru_cache(maxsize=4096)
def flat_tie(
    knot: str,
    knotters: tuple[Point, Point],
    fillers: tuple[Point, ...],
    across_mm: float,
    down_mm: float,
    degrees: tuple[float, float] = (0.0, 0.0),
) -> Shape:
    """Shape a half knot or square knot.

    Args:
        knot: One of the four flat knots.
        knotters: Contact diameter and look of the left and the right knotter.
        fillers: Likewise of those between, from the left.
        across_mm: How wide it is.
        down_mm: From its top to its bottom.
        degrees: How far the run has turned above it and below it; the other way round for one
            begun on the right.
    """
    if knot in _BEGUN_RIGHT:
        twin = names.MIRRORED[knot]
        back = (knotters[1], knotters[0])
        return _exchanged(flat_tie(twin, back, fillers[::-1], across_mm, down_mm, degrees))
    d = (knotters[0][0] + knotters[1][0]) / 2
    laid = _Laid(across_mm / 2 - 0.86 * d, d, degrees)
    wide = (knotters[0][1], knotters[1][1])
    if knot in _SQUARES:
        own, ends = _square(laid, wide, down_mm, d), (0, 1)
    else:
        own, ends = _half(laid, (0, 1), wide, 0.0, down_mm), (1, 0)
    return _with_fillers(own, laid, fillers, down_mm, ends,
                         ("flat", knot, knotters, fillers, across_mm, down_mm, degrees))  # fmt: skip


def _square(laid: _Laid, wide: tuple[float, float], down: float, d: float) -> list[Stretch]:
    """Lay a half knot begun on the left and one begun on the right below it."""
    body = min(down, _BODY * d)
    top = (down - body) / 2
    first = _half(laid, (0, 1), wide, top, body / 2)
    second = _half(laid, (0, 1), wide, top + body / 2, body / 2)
    own = [*first, *(_mirrored(s) for s in second)]
    if top > 0:
        for x, who in ((-laid.side_mm, 0), (laid.side_mm, 1)):
            for y in (0.0, down - top):
                own += course(who, [(x, y, 3), (x, y + top, 3)], wide[who])
    return own


def _mirrored(s: Stretch) -> Stretch:
    return Stretch(s.strand, s.layer, s.width_mm, tuple([(-x, y) for x, y in s.path]), s.capped)


def _with_fillers(
    own: list[Stretch], laid: _Laid, fillers: tuple[Point, ...], down: float,
    ends: tuple[int, int], key: tuple[object, ...],
) -> Shape:  # fmt: skip
    at = _side_by_side([filler[0] for filler in fillers])
    enter = [laid.seen(x, 0.0, 0.0, 0.0)[:2] for x in (-laid.side_mm, laid.side_mm, *at)]
    leave = [laid.seen(x, 0.0, 1.0, down)[:2] for x in (-laid.side_mm, laid.side_mm, *at)]
    for number, x in enumerate(at):
        steps = [laid.seen(x, 0.0, share, share * down) for share in (0, 0.5, 1)]
        look = fillers[number][1]
        own += course(2 + number, [(x, y, layer if abs(layer) > 1 else 0)
                                   for x, y, layer in steps], look)  # fmt: skip
    leave[:2] = [leave[end] for end in ends]
    half = laid.side_mm + 0.86 * laid.deep_mm
    return shape(own, enter, leave, key, 0.0, (-half, 0.0, half, down))


def _side_by_side(widths: list[float]) -> list[float]:
    """Return where strands of these widths lie beside each other about the middle."""
    at, edge = [], -sum(widths) / 2
    for wide in widths:
        at.append(edge + wide / 2)
        edge += wide
    return at


def _exchanged(made: Shape) -> Shape:
    """Return the mirror image of a flat knot, its left knotter named first again."""
    twin = mirrored_shape(made)
    fillers = len(twin.enter) - 2
    new = [1, 0, *(1 + fillers - n for n in range(fillers))]
    own = [Stretch(new[s.strand], s.layer, s.width_mm, s.path) for s in twin.stretches]
    order = sorted(range(len(new)), key=new.__getitem__)
    return shape(own, [twin.enter[n] for n in order], [twin.leave[n] for n in order],
                 twin.key, 0.0, twin.box)  # fmt: skip
