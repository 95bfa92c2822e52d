"""Hitches: turns of the knotter over what it is tied round, which is seen only between them.

A hitch is laid out along an axis, from which it is turned into its place: the holder of a row,
or the strand that hangs. The knotter comes from one side of the axis and leaves on the other.
"""

from functools import lru_cache
from math import atan2, cos, degrees, hypot, radians, sin
from typing import Final

from coach.knots import names
from coach.picture.scene import Point, Shape, Stretch
from coach.picture.shapes.curves import Vertex, course, moved, shape, spread, turned

_LEAN: Final = 0.14  # how far a turn's top lies ahead of its middle, in knotter's diameters
_FRONT: Final = 3
_BEHIND: Final = -3
_HITCHES: Final = {
    names.CLOVE: names.CLOVE,
    names.REVERSE_CLOVE: names.CLOVE,
    names.HALF_HITCH: names.HALF_HITCH,
    names.LARKS_HEAD: names.LARKS_HEAD,
    names.REVERSE_LARKS_HEAD: names.LARKS_HEAD,
}


def _bar(at: float, reach: float, lean: float, layer: int = _FRONT) -> list[Vertex]:
    """Return a turn's front: up over the axis, from its lower edge to its upper one."""
    low, high = (at - lean, reach, layer), (at + lean, -reach, layer)
    return [low, (at, 0.0, layer), high]


def _clove(d: float, pitch: float, reach: float) -> list[Vertex]:
    """Return a knotter's way: behind the axis, up over it, behind, up over it, and out behind."""
    gap, lean = pitch / 4, _LEAN * d
    return [
        (0.16 * d, -reach, _BEHIND), (0.1 * d, 0.0, _BEHIND),
        (-gap + 0.3 * d, reach + 0.1 * d, _BEHIND), *_bar(-gap, reach, lean),
        (-0.1 * d, -reach - 0.1 * d, _BEHIND + 1), (0.0, 0.0, _BEHIND + 1),
        (gap - 0.5 * d, reach + 0.1 * d, _BEHIND + 1), *_bar(gap, reach, lean),
        (gap - 0.5 * d, -reach, _BEHIND + 2), (0.1 * d, 0.0, _BEHIND + 2),
        (-0.1 * d, reach + 0.1 * d, _BEHIND + 2),
    ]  # fmt: skip


def _half_hitch(d: float, pitch: float, reach: float) -> list[Vertex]:
    """Return a knotter's way round once and out through its own loop."""
    del pitch
    return [
        (0.4 * d, -reach, _BEHIND), (0.4 * d, 0.0, _BEHIND), (0.2 * d, reach, _BEHIND),
        *_bar(0.0, reach, _LEAN * d),
        (-0.4 * d, -reach, _BEHIND + 1), (-0.4 * d, 0.0, _BEHIND + 1),
        (-0.2 * d, reach + 0.1 * d, _BEHIND + 1),
    ]  # fmt: skip


def _larks_head(d: float, pitch: float, reach: float) -> list[Vertex]:
    """Return a knotter's way: two turns that face each other and the bar across their feet."""
    gap, out = pitch / 5.6, pitch / 2 - 0.6 * d
    low = reach + 0.1 * d
    return [
        (-0.2 * d, -reach, _BEHIND), (-0.2 * d, 0.0, _BEHIND), (-gap + 0.2 * d, low, _BEHIND),
        *_bar(-gap, reach, 0.0),
        (-out, -reach, _BEHIND), (-out, 0.0, _BEHIND), (-out, low, _BEHIND + 1),
        (-out, low, _FRONT + 1), (out, low, _FRONT + 1),
        (out, low, _BEHIND + 1), (out, 0.0, _BEHIND), (out, -reach, _BEHIND),
        *reversed(_bar(gap, reach, 0.0)),
        (gap - 0.2 * d, reach + 0.3 * d, 1), (0.1 * d, reach + 0.3 * d, 1),
    ]  # fmt: skip


_WAYS: Final = {
    names.CLOVE: _clove,
    names.HALF_HITCH: _half_hitch,
    names.LARKS_HEAD: _larks_head,
}


def _knotter(knot: str, d: float, held: float, wide: float, pitch: float) -> list[Stretch]:
    """Return a knotter's stretches along a level axis; a reverse lark's head shows its back."""
    reach = held / 2 + 0.42 * d
    ways = _WAYS[_HITCHES[knot]](d, pitch, reach)
    if knot == names.REVERSE_LARKS_HEAD:
        ways = [(x, y, -layer) for x, y, layer in ways]
    return course(0, ways, wide, (_FRONT, _FRONT + 1))


@lru_cache(maxsize=4096)
def holder_tie(knot: str, knotter: Point, holder: Point, across_mm: float, drop_mm: float) -> Shape:
    """Shape a tie of a row worked to the right, the travelling strand being the holder.

    Args:
        knot: The hitch.
        knotter: Contact diameter of the strand that is crossed, and how wide it looks.
        holder: Likewise of the holder.
        across_mm: From column to column.
        drop_mm: How far the row comes down on that way.

    The origin is in the middle of the holder.
    """
    long, slope = hypot(across_mm, drop_mm), degrees(atan2(drop_mm, across_mm))
    d, held, half = knotter[0], holder[0], long / 2
    own = _knotter(knot, d, held, knotter[1], long)
    place = turned(slope)
    own += course(1, [(-half, 0.0, 0), (half, 0.0, 0)], holder[1])
    reach = held / 2 + 0.42 * d
    enter = [place((0.16 * d, -reach)), place((-half, 0.0))]
    leave = [place((-0.1 * d, reach)), place((half, 0.0))]
    deep = (held / 2 + 0.9 * d) / cos(radians(slope)) + drop_mm / 2
    box = (-across_mm / 2, -deep, across_mm / 2, deep)
    key = ("holder", knot, knotter, holder, across_mm, drop_mm)
    return shape(moved(own, place), enter, leave, key, slope, box)


@lru_cache(maxsize=4096)
def travelling_tie(
    knot: str, knotter: Point, held: Point, across_mm: float, down_mm: float
) -> Shape:
    """Shape a tie of a row worked to the right, the travelling strand being the knotter.

    It is tied round a strand that hangs, one turn above the other. The origin is in the middle.
    """
    d, half = knotter[0], down_mm / 2
    own = moved(_knotter(knot, d, held[0], knotter[1], down_mm), _upright)
    own += course(1, [(0.0, -half, 0), (0.0, half, 0)], held[1])
    reach = held[0] / 2 + 0.42 * d
    enter: list[Point] = [(-reach, 0.0), (0.0, -half)]
    leave: list[Point] = [(reach, 0.0), (0.0, half)]
    key = ("travelling", knot, knotter, held, across_mm, down_mm)
    return shape(own, enter, leave, key, 0.0, (-across_mm / 2, -half, across_mm / 2, half))


def _upright(point: Point) -> Point:
    """Exchange across and down: what lay level hangs."""
    return point[1], point[0]


@lru_cache(maxsize=4096)
def around_tie(
    knot: str,
    knotter: Point,
    held: tuple[Point, ...],
    across_mm: float,
    down_mm: float,
    degrees: tuple[float, float] = (0.0, 0.0),
) -> Shape:
    """Shape a tie of a strand on the left round others on its right, which hang on.

    `across_mm` is how wide the others lie together; `degrees` is how far a run that winds round
    them has turned above and below. The origin is in the middle of the others' top.
    """
    d, core = knotter[0], across_mm / 2
    at = spread(len(held), (across_mm - held[0][1]) / max(1, len(held) - 1))
    own = [
        s for who, (x, w) in enumerate(zip(at, held, strict=True), start=1)
        for s in course(who, [(x, 0.0, 0), (x, down_mm, 0)], w[1])
    ]  # fmt: skip
    side = -core - 0.5 * d
    way = _AROUND[knot](d, down_mm, core + 0.3 * d, side)
    own += course(0, [_wound(v, d, down_mm, degrees) for v in way], knotter[1])
    ends = [_wound((side, y, 0), d, down_mm, degrees)[:2] for y in (0.0, down_mm)]
    key = ("around", knot, knotter, held, across_mm, down_mm, degrees)
    box = (side - 0.6 * d, 0.0, core + 0.9 * d, down_mm)
    enter, leave = [(x, 0.0) for x in at], [(x, down_mm) for x in at]
    return shape(own, [ends[0], *enter], [ends[1], *leave], key, -12.0, box)


def _wound(at: Vertex, d: float, down: float, degrees_of: tuple[float, float]) -> Vertex:
    """Turn a point of a winding run about the middle of what it winds round."""
    first, last = degrees_of
    if first == last == 0:
        return at
    x, y, layer = at
    angle = radians(first + (last - first) * y / down)
    near = layer * 0.5 * d
    turned_x = x * cos(angle) + near * sin(angle)
    return turned_x, y, round((near * cos(angle) - x * sin(angle)) / (0.5 * d)) or 1


def _round_head(d: float, h: float, reach: float, side: float) -> list[Vertex]:
    """Return the way of a lark's head: over, back under, the bar down the side, under, over."""
    out = side - 0.25 * d
    return [
        (side, 0.0, 1), (side, 0.24 * h, 1), (side + 0.3 * d, 0.4 * h, _FRONT - 1),
        (reach, 0.4 * h, _FRONT - 1), (reach, 0.2 * h, _BEHIND), (-reach, 0.16 * h, _BEHIND),
        (out, 0.16 * h, _FRONT + 1), (out, 0.84 * h, _FRONT + 1), (-reach, 0.84 * h, _BEHIND),
        (reach, 0.8 * h, _BEHIND), (reach, 0.66 * h, _FRONT - 1), (side + 0.3 * d, 0.66 * h, 1),
        (side, 0.78 * h, 1), (side, h, 1),
    ]  # fmt: skip


def _reversed_head(d: float, h: float, reach: float, side: float) -> list[Vertex]:
    return [(x, y, -layer) for x, y, layer in _round_head(d, h, reach, side)]


def _round_half(d: float, h: float, reach: float, side: float) -> list[Vertex]:
    """Return the way of a half hitch: over, back under, and out over its own lead."""
    return [
        (side, 0.0, 1), (side, 0.3 * h, 1), (side + 0.2 * d, 0.45 * h, _FRONT),
        (reach, 0.7 * h, _FRONT), (reach, 0.3 * h, _BEHIND), (-reach, 0.1 * h, _BEHIND),
        (side - 0.2 * d, 0.2 * h, _FRONT + 1), (side - 0.15 * d, 0.8 * h, _FRONT + 1),
        (side, h, 1),
    ]  # fmt: skip


def _round_clove(d: float, h: float, reach: float, side: float) -> list[Vertex]:
    """Return two half hitches, one below the other."""
    half = _round_half(d, h / 2, reach, side)
    return [*half[:-1], *((x, y + h / 2, layer) for x, y, layer in half[1:])]


_AROUND: Final = {
    names.LARKS_HEAD: _round_head,
    names.REVERSE_LARKS_HEAD: _reversed_head,
    names.HALF_HITCH: _round_half,
    names.CLOVE: _round_clove,
    names.REVERSE_CLOVE: _round_clove,
}
