"""Shapes of half knots and square knots: bight, bars, and twisting runs.

A half knot is laid out in space and seen from the front, so that a twisting run shows its
front, its edge and its back in turn. Lengths in mm; the origin is in the middle of the top.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from math import cos, radians, sin
from typing import Final, TypeAlias

from coach.knots import names
from coach.picture.scene import Point, Segment, Shape, mirrored_shape
from coach.picture.shapes.curves import course, shape

Spot: TypeAlias = tuple[float, float, float]
"""Across from the middle as a share of the side, down as a share of the height, and how far
toward the viewer in knotter's diameters."""

_BODY: Final = 3.7  # height in knotter's diameters that two half knots take when drawn up
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


@dataclass(frozen=True, slots=True)
class _Laid:
    """The layout of a flat knot: distance of its sides, thickness of its cord, and its turn."""

    side_mm: float
    deep_mm: float
    degrees: tuple[float, float]


def _half(laid: _Laid, wide: tuple[float, float], top: float, high: float) -> list[Segment]:
    """Return one half knot begun on the left: strand 0 goes over in front, strand 1 under.

    Strand 0 comes down on the left, crosses in front and goes under strand 1 on the right. Strand
    1 comes down there, crosses behind and comes up through the loop on the left, over strand 0.
    """
    x, upper, lower = laid.side_mm, top + 0.42 * high, top + 0.58 * high
    return [
        *_pill(0, wide[0], 1, (-x, top), (-x, upper)),
        *_pill(0, wide[0], 2, (-x, upper), (x, lower)),
        *_pill(0, wide[0], 1, (x, lower), (x, top + high)),
        *_pill(1, wide[1], -2, (x, lower), (-x, upper)),
        *_upright(1, wide[1], x, (top, lower + 0.1 * high)),
        *_upright(1, wide[1], -x, (upper - 0.2 * high, top + high)),
    ]


def _pill(
    who: int, wide: float, layer: int, start: Point, end: Point
) -> list[Segment]:  # fmt: skip
    """Return a straight stretch whose ends are rounded where it goes over an edge."""
    return course(who, [(*start, layer), (*end, layer)], wide, (layer,))


def _upright(who: int, wide: float, x: float, span: tuple[float, float]) -> list[Segment]:
    """Return what stands at a side of the knot, over the ends of its bars, bulging a little."""
    top, bottom = span
    line = [(x, top, 3), (x * 1.1, (2 * top + bottom) / 3, 3), (x * 1.1, (top + 2 * bottom) / 3, 3),
            (x, bottom, 3)]  # fmt: skip
    return course(who, line, wide, (3,))


@lru_cache(maxsize=4096)
def flat_shape(
    knot: str,
    knotters: tuple[Point, Point],
    fillers: tuple[Point, ...],
    across_mm: float,
    down_mm: float,
    *,
    degrees: tuple[float, float] = (0.0, 0.0),
) -> Shape:
    """Return the shape of a half knot or square knot.

    Args:
        knot: One of the four flat knots.
        knotters: Contact diameter and drawn width of the left and the right knotter.
        fillers: The same of those between, from the left.
        across_mm: Its width.
        down_mm: Its height.
        degrees: How far the run has turned above it and below it; the other way round for one begun
            on the right.
    """
    if knot in _BEGUN_RIGHT:
        twin = names.MIRRORED[knot]
        back = (knotters[1], knotters[0])
        return swapped_shape(
            flat_shape(twin, back, fillers[::-1], across_mm, down_mm, degrees=degrees)
        )
    d = (knotters[0][0] + knotters[1][0]) / 2
    laid = _Laid(across_mm / 2 - 0.66 * d, d, degrees)
    wide = (knotters[0][1], knotters[1][1])
    if knot in _SQUARES:
        own, ends = _square(laid, wide, down_mm, d), (0, 1)
    else:
        turning = degrees != (0.0, 0.0)
        own = _turning(laid, wide, down_mm) if turning else _half(laid, wide, 0.0, down_mm)
        ends = (1, 0)
    at = _between(laid, [filler[0] for filler in fillers])
    own += _hanging(at, fillers, down_mm)
    key = ("flat", knot, knotters, fillers, across_mm, down_mm, degrees)
    xs = [-laid.side_mm, laid.side_mm, *at]
    enter, leave = [(x, 0.0) for x in xs], [(x, down_mm) for x in xs]
    leave[:2] = [leave[end] for end in ends]
    return shape(own, enter, leave, key, box=(-across_mm / 2, 0.0, across_mm / 2, down_mm))


def _square(laid: _Laid, wide: tuple[float, float], down: float, d: float) -> list[Segment]:
    """Return a half knot begun on the left and one begun on the right below it."""
    body = min(down, _BODY * d)
    top, half, x = (down - body) / 2, body / 2, laid.side_mm
    first, second = _half(laid, wide, top, half), _half(laid, wide, top + half, half)
    bars = [s for s in (*first, *map(_mirrored, second)) if abs(s.layer) == 2]  # noqa: PLR2004
    low, edge = top + half, 0.22 * half
    return [
        *bars,
        *_pill(0, wide[0], 1, (-x, 0.0), (-x, low - half * 0.58)),
        *_upright(1, wide[1], -x, (top + edge, low + half * 0.68)),
        *_pill(1, wide[1], 3, (x, 0.0), (x, top + half * 0.68)),
        *course(0, [(x, low - 0.42 * half, 1), (x * 1.1, low, 1), (x, low + 0.42 * half, 1)],
                wide[0], (1,)),
        *_pill(1, wide[1], 3, (x, low + edge), (x, down)),
        *_pill(0, wide[0], 1, (-x, low + 0.58 * half), (-x, down)),
    ]  # fmt: skip


def _turning(laid: _Laid, wide: tuple[float, float], down: float) -> list[Segment]:
    """Return a half knot of a twisting run: a bar in front, one behind, and the sides.

    The run is as round as it is wide. The strand that goes over makes the bar of the knot's own
    front, the other that of its back; whichever of them has turned to the viewer shows. The bights
    at the knot's sides wind down the run.
    """
    side, d = laid.side_mm, laid.deep_mm
    angle = radians(sum(laid.degrees) / 2)
    front = 0 if cos(angle) > 0 else 1
    own: list[Segment] = []
    for who, layer in ((front, 2), (1 - front, -2)):
        slope = 0.3 * down if layer > 0 else -0.3 * down
        ends = (-side, down / 2 - slope), (side, down / 2 + slope)
        own += _pill(who, wide[who], layer, *ends)
    for who, start in ((1, -side), (0, side)):
        x, near = start * cos(angle), -start * sin(angle)
        layer = 3 if near > 0.2 * d else -3
        lean = 0.35 * d if near > 0 else -0.35 * d
        own += _pill(who, wide[who], layer, (x - lean, 0.0), (x + lean, down))
    return own


def _mirrored(s: Segment) -> Segment:
    return replace(s, path=tuple([(-x, y) for x, y in s.path]))


def _hanging(at: Sequence[float], fillers: tuple[Point, ...], down: float) -> list[Segment]:
    """Return the fillers, straight down."""
    return [s for who, (x, filler) in enumerate(zip(at, fillers, strict=True), start=2)
            for s in course(who, [(x, 0.0, 0), (x, down, 0)], filler[1])]  # fmt: skip


def _between(laid: _Laid, widths: Sequence[float]) -> list[float]:
    """Return the positions of fillers, spread over the room between the sides."""
    room = 2 * laid.side_mm - laid.deep_mm
    gap = max(0.0, room - sum(widths)) / (len(widths) + 1)
    at, edge = [], gap - max(room, sum(widths)) / 2
    for wide in widths:
        at.append(edge + wide / 2)
        edge += wide + gap
    return at


def swapped_shape(made: Shape) -> Shape:
    """Return the mirror image of a knot with two knotters, the left one first again."""
    twin = mirrored_shape(made)
    fillers = len(twin.enter) - 2
    new = [1, 0, *(1 + fillers - n for n in range(fillers))]
    own = [replace(s, strand=new[s.strand]) for s in twin.stretches]
    order = sorted(range(len(new)), key=new.__getitem__)
    return shape(own, [twin.enter[n] for n in order], [twin.leave[n] for n in order],
                 twin.key, box=twin.box)  # fmt: skip
