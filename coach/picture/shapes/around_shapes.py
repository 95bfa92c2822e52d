"""Shapes of knots round strands that hang on: lark's heads with their bar, and hitches."""

from dataclasses import replace
from functools import lru_cache
from math import cos, radians, sin
from typing import Final

from coach.knots import names
from coach.picture.scene import Point, Segment, Shape
from coach.picture.shapes.curves import course, placed_segments, shape, spread

_FRONT: Final = 3
_BEHIND: Final = -3


@lru_cache(maxsize=4096)
def around_shape(
    knot: str,
    knotter: Point,
    held: tuple[Point, ...],
    across_mm: float,
    down_mm: float,
    *,
    degrees: tuple[float, float] = (0.0, 0.0),
) -> Shape:
    """Return the shape of a tie of a strand on the left round others on its right.

    The others hang on. The origin is in the middle of the others' top.

    Args:
        knot: The knot's first name.
        knotter: Contact diameter and drawn width of the strand that ties, in mm.
        held: The same of the others.
        across_mm: The width of the others together.
        down_mm: The height of the knot.
        degrees: How far a run that winds round them has turned above and below.
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


def _pills(wide: float, *parts: tuple[int, Point, Point]) -> list[Segment]:
    """Return straight stretches of the knotter, each with its layer, rounded at their ends."""
    return [s for layer, start, end in parts
            for s in course(0, [(*start, layer), (*end, layer)], wide, (layer,))]  # fmt: skip


def _winding(
    d: float, h: float, edges: Point, wide: float, degrees_of: tuple[float, float]
) -> list[Segment]:
    """Return a half hitch of a run whose ridge winds round what it is tied on."""
    core, side = edges
    angle, reach = radians(sum(degrees_of) / 2), core + 0.25 * d
    x, near = side * cos(angle), -side * sin(angle)
    layer, lean = (_FRONT + 1, 0.3 * d) if near > 0 else (_BEHIND - 1, -0.3 * d)
    return _pills(
        wide, (_FRONT, (-reach, 0.3 * h), (reach, 0.7 * h)),
        (_BEHIND, (reach, 0.3 * h), (-reach, 0.7 * h)),
        (layer, (x - lean, 0.05 * h), (x + lean, 0.95 * h)),
    )  # fmt: skip


def _round_head(d: float, h: float, edges: Point, wide: float) -> list[Segment]:
    """Return a lark's head: over, back under, the bar down the side, under, over."""
    core, side = edges
    reach, bar = core + 0.2 * d, side - 0.18 * d
    return _pills(
        wide, (1, (side, 0.0), (side, 0.34 * h)), (2, (side, 0.34 * h), (reach, 0.34 * h)),
        (_BEHIND, (reach, 0.3 * h), (bar, 0.2 * h)),
        (_FRONT, (bar, 0.22 * h), (bar, 0.78 * h)),
        (_BEHIND, (bar, 0.8 * h), (reach, 0.7 * h)),
        (2, (reach, 0.66 * h), (side, 0.66 * h)), (1, (side, 0.66 * h), (side, h)),
    )  # fmt: skip


def _reversed_head(d: float, h: float, edges: Point, wide: float) -> list[Segment]:
    return [replace(s, layer=-s.layer) for s in _round_head(d, h, edges, wide)]


def _round_half(d: float, h: float, edges: Point, wide: float) -> list[Segment]:
    """Return a half hitch: over, back under, and out over its own lead."""
    core, side = edges
    reach = core + 0.2 * d
    return _pills(
        wide, (1, (side, 0.0), (side, 0.4 * h)), (2, (side, 0.36 * h), (reach, 0.62 * h)),
        (_BEHIND, (reach, 0.6 * h), (side, 0.2 * h)),
        (_FRONT, (side - 0.12 * d, 0.24 * h), (side - 0.12 * d, h)),
    )  # fmt: skip


def _round_clove(d: float, h: float, edges: Point, wide: float) -> list[Segment]:
    """Return two half hitches, one below the other."""
    half = _round_half(d, h / 2, edges, wide)
    return [*half, *placed_segments(half, lambda point: (point[0], point[1] + h / 2))]


_AROUND: Final = {
    names.LARKS_HEAD: _round_head,
    names.REVERSE_LARKS_HEAD: _reversed_head,
    names.HALF_HITCH: _round_half,
    names.CLOVE: _round_clove,
    names.REVERSE_CLOVE: _round_clove,
}
