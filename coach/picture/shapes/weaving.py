"""Lines that weave over and under themselves and each other in turn."""

from collections.abc import Sequence
from itertools import pairwise
from typing import Final

from coach.picture.scene import Point
from coach.picture.shapes.curves import Vertex, offset_line

_NONE: Final = (0.0, 0)


def woven(
    lines: Sequence[Sequence[Point]], over: bool = False, layers: tuple[int, int] = (-1, 1)
) -> list[list[Vertex]]:
    """Return lines with the layers at which they weave over and under each other in turn.

    Args:
        lines: Smooth lines, each crossing itself and the others once at a time.
        over: Whether the first line lies over at its first crossing.
        layers: The layers under and over.
    """
    return [_layered(line, marks)
            for line, marks in zip(lines, _marks(lines, over, layers), strict=True)]  # fmt: skip


def woven_bands(
    lines: Sequence[Sequence[Point]], asides: Sequence[float], layers: tuple[int, int]
) -> list[list[list[Vertex]]]:
    """Return bands of parallel strands woven over and under in turn.

    The first line lies over at its first crossing. Every strand changes its layer between the bands
    that it meets, and nowhere else.

    Args:
        lines: The middle line of each band.
        asides: The distance of each strand from it, to the left.
        layers: The layers under and over.

    Returns:
        The strands of each line, from its right.
    """
    marks = _marks(lines, True, layers)  # noqa: FBT003 - as the docstring says
    flat = [[(x, y, 0) for x, y in line] for line in lines]
    strands = [[(x, y) for x, y, _ in offset_line(line, by)] for line in flat for by in asides]
    met: dict[int, list[float]] = {}
    for at, _, who in _crossings(strands):
        met.setdefault(who, []).append(at)
    found: list[list[list[Vertex]]] = [[] for _ in lines]
    for who, strand in enumerate(strands):
        band = who // len(asides)
        own = [(at, _nearest(marks[band], at)) for at in met.get(who, [])]
        found[band].append(_layered(strand, own))
    return found


def _marks(
    lines: Sequence[Sequence[Point]], over: bool, layers: tuple[int, int]
) -> list[list[tuple[float, int]]]:
    """Return where along each line it crosses, with its layer there; over and under in turn."""
    met = _crossings(lines)
    high: dict[int, bool] = {}
    found: list[list[tuple[float, int]]] = []
    for number in range(len(lines)):
        own = [(at, crossing) for at, crossing, who in sorted(met) if who == number]
        first = next((high[c] == (n % 2 == 1) for n, (_, c) in enumerate(own) if c in high),
                     not over)  # fmt: skip
        marks = []
        for n, (at, crossing) in enumerate(own):
            above = (n % 2 == 1) == first
            high.setdefault(crossing, not above)
            marks.append((at, layers[above]))
        found.append(marks)
    return found


def _nearest(marks: Sequence[tuple[float, int]], at: float) -> int:
    return min(marks, key=lambda mark: abs(mark[0] - at), default=_NONE)[1]


def _layered(line: Sequence[Point], marks: Sequence[tuple[float, int]]) -> list[Vertex]:
    """Return every point of a line with the layer of the nearest crossing along it."""
    return [(*point, _nearest(marks, at)) for at, point in enumerate(line)]


def _crossings(lines: Sequence[Sequence[Point]]) -> list[tuple[float, int, int]]:
    """Return where lines cross: the distance along, the crossing, and the line, in order."""
    parts = [(n, at, a, b) for n, line in enumerate(lines)
             for at, (a, b) in enumerate(pairwise(line))]  # fmt: skip
    found: list[tuple[float, int, int]] = []
    crossing = 0
    for place, (n, at, a, b) in enumerate(parts):
        for m, to, c, d in parts[place + 2 :]:
            meeting = _meeting(a, b, c, d)
            if meeting:
                found += [(at + meeting[0], crossing, n), (to + meeting[1], crossing, m)]
                crossing += 1
    return sorted(found)


def _meeting(a: Point, b: Point, c: Point, d: Point) -> tuple[float, float] | None:
    """Return how far along each of two segments they cross, or None."""
    ux, uy, vx, vy = b[0] - a[0], b[1] - a[1], d[0] - c[0], d[1] - c[1]
    cross = ux * vy - uy * vx
    if not cross:
        return None
    wx, wy = c[0] - a[0], c[1] - a[1]
    t, s = (wx * vy - wy * vx) / cross, (wx * uy - wy * ux) / cross
    return (t, s) if 0 <= t < 1 and 0 <= s < 1 else None
