"""Smooth curves of cord through given points."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from itertools import groupby, pairwise
from math import cos, hypot, radians, sin
from typing import Final, TypeAlias

from coach.picture.scene import Box, Point, Segment, Shape

Vertex: TypeAlias = tuple[float, float, int]
"""Across, down, and the layer of the cord there."""
Place: TypeAlias = Callable[[Point], Point]


_COVER: Final = 0.15


def course(
    strand: int, vertices: Sequence[Vertex], width_mm: float, capped: Iterable[int] = ()
) -> list[Segment]:
    """Return a strand along its vertices as a smooth curve, cut where the layer changes.

    The curve starts in the first vertex, ends in the last, and bends round those between, whose
    layers count.

    Args:
        strand: The index of the strand in its shape.
        vertices: Its path, in mm, each point with its layer.
        width_mm: Its thickness.
        capped: The layers whose stretches have rounded ends.

    Returns:
        The stretches, each in one layer.
    """
    if len(vertices) == 2:  # noqa: PLR2004 - a straight line
        first, last = vertices
        vertices = (first, _middle(first, last), last)
    knots = [vertices[0], *(_middle(a, b) for a, b in pairwise(vertices[1:-1])), vertices[-1]]
    parts = [(bend[2], at[:2], bend[:2], to[:2])
             for at, bend, to in zip(knots, vertices[1:-1], knots[1:], strict=False)]  # fmt: skip
    found = []
    rounded = set(capped)
    for layer, group in groupby(parts, key=lambda part: part[0]):
        own = list(group)
        path = [own[0][1], *(point for part in own for point in part[2:])]
        found.append(Segment(strand, layer, width_mm, tuple(path), layer in rounded))
    return found


def _middle(a: Vertex, b: Vertex) -> Vertex:
    return ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2, a[2])


def placed_segments(
    stretches: Iterable[Segment], place: Place, strand: int | None = None
) -> list[Segment]:
    """Return stretches with every point mapped, optionally as another strand's.

    Args:
        stretches: The stretches.
        place: Return where a point goes.
        strand: Their new strand, None to keep it.
    """
    return [
        Segment(
            s.strand if strand is None else strand, s.layer, s.width_mm,
            tuple([place(point) for point in s.path]), s.capped,
        )
        for s in stretches
    ]  # fmt: skip


def rotation(degrees: float, down: float = 0.0) -> Place:
    """Return a map that rotates points about the origin, then moves them down.

    Args:
        degrees: The angle, clockwise as seen.
        down: How far they are then moved, in mm.
    """
    c, s = cos(radians(degrees)), sin(radians(degrees))
    return lambda point: (point[0] * c - point[1] * s, point[0] * s + point[1] * c + down)


def shape(
    stretches: Iterable[Segment],
    enter: Iterable[Point],
    leave: Iterable[Point],
    key: tuple[object, ...],
    *,
    lean_deg: float = 0.0,
    box: Box | None = None,
    covers: Sequence[float] = (),
) -> Shape:
    """Build a shape from stretches, lowest first.

    Args:
        stretches: The visible stretches of each strand, in mm from the middle of its top.
        enter: Where the strands come in above, one after the other.
        leave: Where they go out below, in the same order.
        key: The values that two shapes share if they look the same.
        lean_deg: How far it leans.
        box: Left, top, right and bottom, if not those of its stretches.
        covers: How far it covers each strand where that comes in, in widths of the strand.
    """
    own = tuple(sorted(stretches, key=lambda s: (s.layer, s.strand)))
    first = tuple(enter)
    covered = tuple(covers) or (_COVER,) * len(first)
    return Shape(own, first, tuple(leave), box or box_of(own), lean_deg, key, covered)


def box_of(stretches: Iterable[Segment]) -> Box:
    """Return the bounding box of stretches, by their points."""
    edges = [(x, y, s.width_mm / 2) for s in stretches for x, y in s.path]
    if not edges:
        return 0.0, 0.0, 0.0, 0.0
    return (
        min(x - w for x, _, w in edges), min(y - w for _, y, w in edges),
        max(x + w for x, _, w in edges), max(y + w for _, y, w in edges),
    )  # fmt: skip


def offset_line(vertices: Sequence[Vertex], aside_mm: float) -> list[Vertex]:
    """Return a line parallel to another one, to its left if `aside_mm` is above 0."""
    found = []
    for at, (x, y, layer) in enumerate(vertices):
        before, after = vertices[max(0, at - 1)], vertices[min(len(vertices) - 1, at + 1)]
        dx, dy = after[0] - before[0], after[1] - before[1]
        long = hypot(dx, dy) or 1.0
        found.append((x + dy / long * aside_mm, y - dx / long * aside_mm, layer))
    return found


def spread(count: int, apart_mm: float) -> list[float]:
    """Return the positions of a number of strands side by side, centred on 0."""
    return [(place - (count - 1) / 2) * apart_mm for place in range(count)]


def smooth(points: Sequence[Point], steps: int = 6) -> list[Point]:
    """Return a finely sampled smooth line through the midpoints of a polyline."""
    flat = [(x, y, 0) for x, y in points]
    (line,) = course(0, flat, 0.0)
    found = [line.path[0]]
    for start, bend, end in zip(line.path[:-1:2], line.path[1::2], line.path[2::2], strict=True):
        for step in range(1, steps + 1):
            t = step / steps
            a, b, c = (1 - t) ** 2, 2 * t * (1 - t), t * t
            found.append((a * start[0] + b * bend[0] + c * end[0],
                          a * start[1] + b * bend[1] + c * end[1]))  # fmt: skip
    return found


def halved(stretch: Segment) -> Segment:
    """Return a stretch with each of its curves divided in two: the same line, more points."""
    path = [stretch.path[0]]
    for a, b, c in zip(stretch.path[:-1:2], stretch.path[1::2], stretch.path[2::2], strict=True):
        left, right = _between(a, b), _between(b, c)
        path += [left, _between(left, right), right, c]
    return replace(stretch, path=tuple(path))


def _between(a: Point, b: Point) -> Point:
    return (a[0] + b[0]) / 2, (a[1] + b[1]) / 2
