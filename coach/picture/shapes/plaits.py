"""Shapes of plaits of three strands or bundles: outer ones go over into the middle in turn."""

from functools import lru_cache
from typing import Final, TypeAlias

from coach.board.permutations import plait_crossing
from coach.picture.scene import Point, Segment, Shape
from coach.picture.shapes.curves import Vertex, course, offset_line, shape, spread

Bundles: TypeAlias = tuple[tuple[Point, ...], ...]
"""The looks of each bundle's strands."""
SIDE: Final = 1.05 / 3.1
"""How far from the middle an outer bundle lies, in widths of the plait."""


@lru_cache(maxsize=1024)
def plait_shape(
    bundles: Bundles, crossings: int, across_mm: float, down_mm: float,
    spots: tuple[float, ...] = (),
    *,
    spreads: bool = True,
) -> Shape:  # fmt: skip
    """Return the shape of a plait, the outer right bundle first into the middle.

    Its strands are numbered bundle after bundle, as they hang from the left above it.

    Args:
        bundles: Contact diameter and drawn width of each strand of the three bundles.
        crossings: How many crossings it has.
        across_mm: Its width.
        down_mm: Its length.
        spots: Where the strands come from above, and where they spread to below.
        spreads: Whether they spread below.
    """
    side, neck = across_mm * SIDE, min(0.1 * down_mm, across_mm * 0.5) if spots else 0.0
    foot = neck if spreads else 0.0
    lines, places = _lines(crossings, side, (down_mm - neck - foot) / crossings)
    first = [sum(map(len, bundles[:n])) for n in range(3)]
    enter, leave = [[(0.0, 0.0)] * sum(map(len, bundles)) for _ in range(2)]
    own: list[Segment] = []
    for number, looks in enumerate(bundles):
        for who, by in enumerate(_aside(looks, across_mm / 3.1)):
            strand = first[number] + who
            line = [(x, y + neck, layer) for x, y, layer in offset_line(lines[number], by)]
            last = ((places[number] - 1) * side + by, down_mm - foot)
            if spots:
                line = [(spots[strand], 0.0, 1), *line]
            if spots and spreads:
                line += [(*last, 1), (spots[strand], down_mm, 1)]
            own += course(strand, line, looks[who][1])
            enter[strand], leave[strand] = line[0][:2], (line[-1][0], down_mm)
    box = (-across_mm / 2, 0.0, across_mm / 2, down_mm)
    key = ("plait", bundles, crossings, across_mm, down_mm, spots, spreads)
    return shape(own, enter, leave, key, box=box)


def _lines(crossings: int, side: float, pitch: float) -> tuple[list[list[Vertex]], list[int]]:
    """Return the path of each bundle and the place, from the left, at which it ends."""
    lines: list[list[Vertex]] = [[((n - 1) * side, 0.0, 1)] for n in range(3)]
    now: tuple[tuple[int, ...], ...] = ((0,), (1,), (2,))
    places = [0, 1, 2]
    for crossing in range(crossings):
        after = plait_crossing(now, crossing)
        mover = now[2] if crossing % 2 == 0 else now[0]
        y = crossing * pitch
        for place, (who,) in enumerate(after):
            before = places[who]
            middle = ((before + place) / 2 - 1) * side
            layer = 3 if (who,) == mover else (-1 if before != place else 1)
            lines[who] += [(middle, y + pitch / 2, layer), ((place - 1) * side, y + pitch, 1)]
            places[who] = place
        now = after
    return lines, places


def _aside(looks: tuple[Point, ...], thick: float) -> list[float]:
    """Return the distances of a bundle's strands from its middle."""
    room = max(0.0, thick * 1.15 - max(look[1] for look in looks))
    return spread(len(looks), room / max(1, len(looks) - 1))


@lru_cache(maxsize=1024)
def crossing_shape(
    mover: tuple[Point, ...], middle: tuple[Point, ...], across_mm: float, down_mm: float
) -> Shape:
    """Return the shape of one crossing of a plait: a bundle goes over its neighbour.

    Args:
        mover: Contact diameter and drawn width in mm of the strands that go over, from the right.
        middle: The same of those that go under, from the left.
        across_mm: The width of the whole plait.
        down_mm: The length of a crossing.
    """
    side, thick = across_mm * SIDE, across_mm / 3.1
    own: list[Segment] = []
    enter: list[Point] = []
    leave: list[Point] = []
    ways = ((mover, side / 2, 3, 0), (middle, -side / 2, -1, len(mover)))
    for looks, x, layer, first in ways:
        line = [(x, 0.0, layer), (x, down_mm * 0.2, layer), (-x, down_mm * 0.8, layer),
                (-x, down_mm, layer)]  # fmt: skip
        for who, by in enumerate(_aside(looks, thick)):
            own += course(first + who, [(a + by, b, c) for a, b, c in line], looks[who][1])
            enter.append((x + by, 0.0))
            leave.append((by - x, down_mm))
    return shape(own, enter, leave, ("crossing", mover, middle, across_mm, down_mm))
