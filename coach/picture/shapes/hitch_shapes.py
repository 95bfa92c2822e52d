"""Shapes of hitches: turns of the knotter over what it is tied round.

A hitch is laid out along an axis, from which it is turned into its place: the holder of a row,
or the strand that hangs. The knotter comes from one side of the axis and leaves on the other.
"""

from dataclasses import replace
from functools import lru_cache
from math import atan2, cos, hypot, pi, radians
from typing import Final, TypeAlias

from coach.knots import names
from coach.picture.scene import Point, Segment, Shape
from coach.picture.shapes.curves import Vertex, course, placed_segments, rotation, shape

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
    """Return a knotter's path: behind the axis, up over it, behind, up over it, and out behind."""
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
    """Return a knotter's path round once and out through its own loop."""
    del pitch
    bar = _bar(0.0, reach, _LEAN * d)
    return [bar], [
        [(0.4 * d, -reach, _BEHIND), (0.4 * d, 0.0, _BEHIND), (0.3 * d, reach, _BEHIND),
         (*bar[0], _BEHIND)],
        [(*bar[1], _BEHIND + 1), (-0.4 * d, -reach, _BEHIND + 1), (-0.4 * d, 0.0, _BEHIND + 1),
         (-0.2 * d, reach, _BEHIND + 1)],
    ]  # fmt: skip


def _larks_head(d: float, pitch: float, reach: float) -> _Way:
    """Return a knotter's path: two turns that face each other, a bar across their feet."""
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


def _knotter(knot: str, d: float, held: float, wide: float, pitch: float) -> list[Segment]:
    """Return a knotter's stretches along a level axis; a reverse lark's head shows its back."""
    bars, rest = _WAYS[_HITCHES[knot]](d, pitch, held / 2 + 0.42 * d)
    own: list[Segment] = []
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
    """Return the shape of a row's tie worked to the right, the travelling strand holding.

    The origin is in the middle of the holder.

    Args:
        knot: The hitch.
        knotter: Contact diameter and drawn width of the crossed strand, in mm.
        holder: The same of the holder.
        across_mm: The distance from column to column.
        drop_mm: How far the row comes down on that way.
    """
    long, slope = hypot(across_mm, drop_mm), atan2(drop_mm, across_mm) * 180 / pi
    d, held, half = knotter[0], holder[0], long / 2
    own = _knotter(knot, d, held, knotter[1], long)
    place = rotation(slope)
    own += course(1, [(-half, 0.0, 0), (half, 0.0, 0)], holder[1])
    reach = held / 2 + 0.42 * d
    enter = [place((0.16 * d, -reach)), place((-half, 0.0))]
    leave = [place((-0.1 * d, reach)), place((half, 0.0))]
    deep = (held / 2 + 0.9 * d) / cos(radians(slope)) + drop_mm / 2
    box = (-across_mm / 2, -deep, across_mm / 2, deep)
    key = ("holder", knot, knotter, holder, across_mm, drop_mm)
    return shape(
        placed_segments(own, place),
        enter,
        leave,
        key,
        lean_deg=slope + _lean_deg(d, reach),
        box=box,
    )


@lru_cache(maxsize=4096)
def travelling_tie(
    knot: str, knotter: Point, held: Point, across_mm: float, down_mm: float
) -> Shape:
    """Return the shape of a row's tie worked to the right, the travelling strand knotting.

    It is tied round a strand that hangs, one turn above the other. The origin is in the middle.

    Args:
        knot: The hitch.
        knotter: Contact diameter and drawn width of the travelling strand, in mm.
        held: The same of the strand it is tied round.
        across_mm: The distance from column to column.
        down_mm: The height of the tie.
    """
    d, half = knotter[0], down_mm / 2
    own = placed_segments(_knotter(knot, d, held[0], knotter[1], down_mm), _upright)
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
    """Swap across and down: what lay level hangs."""
    return point[1], point[0]
