"""Hitches: turns of the knotter over what it is tied round, which is seen only between them.

A hitch is laid out along an axis, from which it is turned into its place: the holder of a row,
or the strand that hangs. The knotter comes from one side of the axis and leaves on the other.
"""

from dataclasses import replace
from functools import lru_cache
from math import atan2, cos, hypot, pi, radians, sin
from typing import Final, TypeAlias

from coach.knots import names
from coach.picture.scene import Point, Shape, Stretch
from coach.picture.shapes.curves import Vertex, course, moved, shape, spread, turned

_LEAN: Final = 0.14  # how far a turn's top lies ahead of its middle, in knotter's diameters
_TAUT: Final = 0.93  # how wide a turn looks: drawn tight, the holder is glimpsed between two
_COVERS: Final = (0.45, 0.05)  # see `Shape`
_FRONT: Final = 3
_BEHIND: Final = -3
_ROUNDED: Final = (-3, -2, -1)
_Way: TypeAlias = tuple[list[tuple[Point, Point]], list[list[Vertex]]]
"""The turns that show in front, and the rest of the way."""
_HITCHES: Final = {
    names.CLOVE: names.CLOVE,
    names.REVERSE_CLOVE: names.CLOVE,
    names.HALF_HITCH: names.HALF_HITCH,
    names.LARKS_HEAD: names.LARKS_HEAD,
    names.REVERSE_LARKS_HEAD: names.LARKS_HEAD,
}


def _bar(at: float, reach: float, lean: float) -> tuple[Point, Point]:
    """Return a turn's front over the axis, from its lower edge to its upper one."""
    return (at - lean, reach), (at + lean, -reach)


def _clove(d: float, pitch: float, reach: float) -> _Way:
    """Return a knotter's way: behind the axis, up over it, behind, up over it, and out behind."""
    gap, lean = pitch / 4, _LEAN * d
    first, second = _bar(-gap, reach, lean), _bar(gap, reach, lean)
    return [first, second], [
        [(0.16 * d, -reach, _BEHIND), (0.1 * d, 0.0, _BEHIND), (0.0, reach, _BEHIND),
         (*first[0], _BEHIND)],
        [(*first[1], _BEHIND + 1), (0.0, -reach, _BEHIND + 1), (0.0, reach, _BEHIND + 1),
         (*second[0], _BEHIND + 1)],
        [(*second[1], _BEHIND + 2), (0.2 * d, -reach, _BEHIND + 2), (0.0, 0.0, _BEHIND + 2),
         (-0.1 * d, reach, _BEHIND + 2)],
    ]  # fmt: skip


def _half_hitch(d: float, pitch: float, reach: float) -> _Way:
    """Return a knotter's way round once and out through its own loop."""
    del pitch
    bar = _bar(0.0, reach, _LEAN * d)
    return [bar], [
        [(0.4 * d, -reach, _BEHIND), (0.4 * d, 0.0, _BEHIND), (0.3 * d, reach, _BEHIND),
         (*bar[0], _BEHIND)],
        [(*bar[1], _BEHIND + 1), (-0.4 * d, -reach, _BEHIND + 1), (-0.4 * d, 0.0, _BEHIND + 1),
         (-0.2 * d, reach, _BEHIND + 1)],
    ]  # fmt: skip


def _larks_head(d: float, pitch: float, reach: float) -> _Way:
    """Return a knotter's way: two turns that face each other and the bar across their feet."""
    gap, out, low = pitch / 5.2, pitch / 2 - 0.62 * d, reach + 0.15 * d
    first, second = _bar(-gap, reach - 0.2 * d, 0.0), _bar(gap, reach - 0.2 * d, 0.0)
    foot = ((-out, low), (out, low))
    return [first, second, foot], [
        [(-0.2 * d, -reach, _BEHIND), (-0.2 * d, 0.0, _BEHIND), (-gap, reach, _BEHIND),
         (*first[0], _BEHIND)],
        [(*first[1], _BEHIND + 1), (-out, -reach, _BEHIND + 1), (-out, 0.0, _BEHIND + 1),
         (*foot[0], _BEHIND + 1)],
        [(*foot[1], _BEHIND + 1), (out, 0.0, _BEHIND + 1), (out, -reach, _BEHIND + 1),
         (*second[1], _BEHIND + 1)],
        [(*second[0], 1), (0.5 * gap, low, 1), (0.0, low, 1), (0.0, low + 0.3 * d, 1)],
    ]  # fmt: skip


_WAYS: Final = {
    names.CLOVE: _clove,
    names.HALF_HITCH: _half_hitch,
    names.LARKS_HEAD: _larks_head,
}


def _knotter(knot: str, d: float, held: float, wide: float, pitch: float) -> list[Stretch]:
    """Return a knotter's stretches along a level axis; a reverse lark's head shows its back."""
    bars, rest = _WAYS[_HITCHES[knot]](d, pitch, held / 2 + 0.42 * d)
    own: list[Stretch] = []
    for number, (low, high) in enumerate(bars):
        layer = _FRONT + (number == 2)  # noqa: PLR2004 - the bar across a lark's head
        own += course(0, [(*low, layer), (*high, layer)], _TAUT * wide, (layer,))
    for way in rest:
        own += course(0, way, _TAUT * wide, _ROUNDED)
    if knot == names.REVERSE_LARKS_HEAD:
        own = [replace(s, layer=-s.layer) for s in own]
    return own


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
    long, slope = hypot(across_mm, drop_mm), atan2(drop_mm, across_mm) * 180 / pi
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
    return shape(
        moved(own, place), enter, leave, key, lean_deg=slope + _lean_deg(d, reach), box=box
    )


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
    lean = 90.0 - _lean_deg(d, reach)
    box = (-across_mm / 2, -half, across_mm / 2, half)
    return shape(own, enter, leave, key, lean_deg=lean, box=box, covers=_COVERS)


def _lean_deg(d: float, reach: float) -> float:
    """Return how far a turn leans from square to its axis."""
    return atan2(_LEAN * d, reach) * 180 / pi


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
    *,
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
    if degrees != (0.0, 0.0):
        own += _winding(d, down_mm, (core, side), knotter[1], degrees)
    else:
        own += _AROUND[knot](d, down_mm, (core, side), knotter[1])
    key = ("around", knot, knotter, held, across_mm, down_mm, degrees)
    box = (side - 0.6 * d, 0.0, core + 0.9 * d, down_mm)
    enter, leave = [(x, 0.0) for x in at], [(x, down_mm) for x in at]
    return shape(
        own, [(side, 0.0), *enter], [(side, down_mm), *leave], key, lean_deg=-12.0, box=box
    )


def _pills(wide: float, *parts: tuple[int, Point, Point]) -> list[Stretch]:
    """Lay straight stretches of the knotter, each with its layer, rounded at their ends."""
    return [s for layer, start, end in parts
            for s in course(0, [(*start, layer), (*end, layer)], wide, (layer,))]  # fmt: skip


def _winding(
    d: float, h: float, edges: Point, wide: float, degrees_of: tuple[float, float]
) -> list[Stretch]:
    """Lay a half hitch of a run whose ridge winds round what it is tied on."""
    core, side = edges
    angle, reach = radians(sum(degrees_of) / 2), core + 0.25 * d
    x, near = side * cos(angle), -side * sin(angle)
    layer, lean = (_FRONT + 1, 0.3 * d) if near > 0 else (_BEHIND - 1, -0.3 * d)
    return _pills(
        wide, (_FRONT, (-reach, 0.3 * h), (reach, 0.7 * h)),
        (_BEHIND, (reach, 0.3 * h), (-reach, 0.7 * h)),
        (layer, (x - lean, 0.05 * h), (x + lean, 0.95 * h)),
    )  # fmt: skip


def _round_head(d: float, h: float, edges: Point, wide: float) -> list[Stretch]:
    """Lay a lark's head: over, back under, the bar down the side, under, over."""
    core, side = edges
    reach, bar = core + 0.2 * d, side - 0.18 * d
    return _pills(
        wide, (1, (side, 0.0), (side, 0.34 * h)), (2, (side, 0.34 * h), (reach, 0.34 * h)),
        (_BEHIND, (reach, 0.3 * h), (bar, 0.2 * h)),
        (_FRONT, (bar, 0.22 * h), (bar, 0.78 * h)),
        (_BEHIND, (bar, 0.8 * h), (reach, 0.7 * h)),
        (2, (reach, 0.66 * h), (side, 0.66 * h)), (1, (side, 0.66 * h), (side, h)),
    )  # fmt: skip


def _reversed_head(d: float, h: float, edges: Point, wide: float) -> list[Stretch]:
    return [replace(s, layer=-s.layer) for s in _round_head(d, h, edges, wide)]


def _round_half(d: float, h: float, edges: Point, wide: float) -> list[Stretch]:
    """Lay a half hitch: over, back under, and out over its own lead."""
    core, side = edges
    reach = core + 0.2 * d
    return _pills(
        wide, (1, (side, 0.0), (side, 0.4 * h)), (2, (side, 0.36 * h), (reach, 0.62 * h)),
        (_BEHIND, (reach, 0.6 * h), (side, 0.2 * h)),
        (_FRONT, (side - 0.12 * d, 0.24 * h), (side - 0.12 * d, h)),
    )  # fmt: skip


def _round_clove(d: float, h: float, edges: Point, wide: float) -> list[Stretch]:
    """Lay two half hitches, one below the other."""
    half = _round_half(d, h / 2, edges, wide)
    return [*half, *moved(half, lambda point: (point[0], point[1] + h / 2))]


_AROUND: Final = {
    names.LARKS_HEAD: _round_head,
    names.REVERSE_LARKS_HEAD: _reversed_head,
    names.HALF_HITCH: _round_half,
    names.CLOVE: _round_clove,
    names.REVERSE_CLOVE: _round_clove,
}
