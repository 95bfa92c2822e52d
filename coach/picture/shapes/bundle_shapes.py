"""Shapes of knots that are tied once: overhand, josephine and berry knots."""

from collections.abc import Sequence
from dataclasses import replace
from functools import lru_cache
from math import hypot, sqrt
from typing import Final

from coach.knots import names
from coach.picture.scene import Point, Segment, Shape
from coach.picture.shapes.curves import course, offset_line, placed_segments, shape, smooth, spread
from coach.picture.shapes.sennits import flat_shape
from coach.picture.shapes.weaving import woven, woven_bands

_OVERHAND: Final[tuple[Point, ...]] = (
    (-0.15, 0.0), (-0.2, 0.5), (-0.45, 1.5), (-0.2, 2.5), (0.95, 2.55), (1.0, 1.3),
    (0.7, 0.3), (-0.9, 0.3), (-1.05, 1.3), (0.0, 1.55), (0.9, 1.9), (0.35, 2.5), (0.1, 2.9),
)  # fmt: skip
"""A bundle on itself: across and down in its own diameters, drawn up; the end goes through."""
_DOUBLE: Final[tuple[Point, ...]] = (
    (-0.15, 0.0), (-0.25, 0.5), (-0.35, 2.5), (-0.2, 3.6), (0.95, 3.65), (1.05, 1.6),
    (0.7, 0.3), (-0.9, 0.3), (-1.1, 1.0), (-0.5, 1.3), (0.25, 1.35), (0.3, 1.75),
    (-0.7, 1.7), (-1.1, 2.1), (-0.7, 2.6), (0.4, 2.65), (1.2, 2.8), (0.5, 3.5), (0.1, 3.9),
)  # fmt: skip
_LEFT: Final[tuple[Point, ...]] = (
    (3.2, 1.6), (3.7, 3.2), (4.0, 6.0), (4.1, 9.0), (4.8, 11.2), (7.2, 11.7), (9.8, 11.0),
    (10.2, 8.4), (9.8, 5.9), (7.2, 5.2), (4.0, 5.3), (1.3, 5.7), (0.6, 8.2), (1.2, 11.2),
    (2.2, 12.4),
)  # fmt: skip
"""The left half of a josephine knot on a board of 12 by 14; the right half is the same turned
half round, and they weave over and under each other in turn."""


_PEEPS: Final = 0.55  # of a strand's width that another leaves of it, for it to be drawn at all
_WITHIN: Final = 0.8  # widths of a strand in which it still lies behind the knot that it leaves
_SLIM: Final = 0.96  # how wide a strand looks there, in contact diameters: four lie in its height


@lru_cache(maxsize=1024)
def overhand_shape(knot: str, looks: tuple[Point, ...], turns: int = 1) -> Shape:
    """Return the shape of a bundle knotted on itself.

    Args:
        looks: Contact diameter and drawn width of each strand in mm.
        knot: The knot's first name.
        turns: How often the end goes round.
    """
    thick = hypot(*(look[0] for look in looks))
    line = _OVERHAND if knot == names.OVERHAND and turns == 1 else _DOUBLE
    high = line[-1][1]
    (way,) = woven([smooth([(x * thick, y * thick) for x, y in line], 4)], layers=(0, 2))
    room = max(0.0, 1.1 * thick - max(look[1] for look in looks))
    aside = spread(len(looks), room / max(1, len(looks) - 1))
    own: list[Segment] = []
    for who in _seen_of(aside, [look[1] for look in looks]):
        own += course(who, offset_line(way, aside[who]), looks[who][1])
    box = (-1.5 * thick, 0.0, 1.5 * thick, high * thick)
    ends = [way[-1][0] + by for by in aside]
    return shape(own, [(way[0][0] + by, 0.0) for by in aside],
                 [(x, high * thick) for x in ends],
                 ("overhand", knot, looks, turns), box=box,
                 covers=[_WITHIN] * len(looks))  # fmt: skip


def _seen_of(aside: Sequence[float], wide: Sequence[float]) -> list[int]:
    """Return which strands of a bundle are seen: the outer ones, and others not hidden."""
    last = len(aside) - 1
    seen = [0]
    for who in range(1, last):
        if (
            aside[who] - aside[seen[-1]] >= _PEEPS * wide[who]
            and aside[last] - aside[who] >= _PEEPS * wide[who]
        ):
            seen.append(who)
    return [*seen, last] if last else seen


@lru_cache(maxsize=1024)
def josephine_shape(looks: tuple[Point, ...], across_mm: float, down_mm: float) -> Shape:
    """Return the shape of two halves interlaced flat.

    Args:
        looks: Contact diameter and drawn width of each strand in mm, from the left.
        across_mm: The width of the knot.
        down_mm: Its height.
    """
    half, band = len(looks) // 2, sum(look[0] for look in looks) / 2
    wide, high = (across_mm - band) / 9.2, down_mm / 10.8
    line = smooth([((x - 6) * wide, (y - 7) * high) for x, y in _LEFT], 4)
    both = line, [(-x, -y) for x, y in reversed(line)]
    bands = woven_bands(both, spread(half, band / half), (0, 2))
    ways = [way for strands in bands for way in strands]
    own: list[Segment] = []
    for who, way in enumerate(ways):
        laid = course(who, way, _SLIM * looks[who][0])
        own += [replace(laid[0], capped=True), *laid[1:-1], replace(laid[-1], capped=True)]
    down = placed_segments(own, lambda point: (point[0], point[1] + down_mm / 2))
    enter = [(way[0][0], 0.0) for way in ways]
    leave = [(way[-1][0], down_mm) for way in ways]
    box = (-across_mm / 2, 0.0, across_mm / 2, down_mm)
    return shape(
        down,
        enter,
        leave,
        ("josephine", looks, across_mm, down_mm),
        box=box,
        covers=[0.0] * len(looks),
    )


@lru_cache(maxsize=1024)
def berry_shape(
    knotters: tuple[Point, Point], fillers: tuple[Point, ...], across_mm: float, down_mm: float
) -> Shape:
    """Return the shape of square knots rolled up into a ball, and the square knot that locks it.

    Args:
        knotters: Contact diameter and drawn width of the outer two strands in mm.
        fillers: The same of those between, from the left.
        across_mm: The width of the knot.
        down_mm: Its height, including the lock.
    """
    d = (knotters[0][0] + knotters[1][0]) / 2
    roll = down_mm - 4.0 * d
    lock = flat_shape(names.SQUARE, knotters, fillers, across_mm - 2 * d, 4.0 * d)
    own = placed_segments(lock.stretches, lambda point: (point[0], point[1] + roll))
    own += _ball(knotters, across_mm / 2, roll, d)
    own += _over_the_top(fillers, roll, d)
    for side, who in ((-1, 0), (1, 1)):
        x = side * (across_mm / 2 - 1.6 * d)
        own += course(who, [(x, 0.0, 1), (x, roll, 1)], knotters[who][1])
    leave = [(x, y + roll) for x, y in lock.leave]
    box = (-across_mm / 2, 0.0, across_mm / 2, down_mm)
    return shape(own, lock.enter, leave,
                 ("berry", knotters, fillers, across_mm, down_mm), box=box)  # fmt: skip


def _ball(knotters: tuple[Point, Point], half: float, roll: float, d: float) -> list[Segment]:
    """Return the bars that show on the roll, bulging, and the bights at their ends."""
    own: list[Segment] = []
    bars = max(3, round((roll - 0.8 * d) / (1.15 * d)))
    for bar in range(bars):
        share = (bar + 0.5) / bars * 2 - 1
        reach = (half - 0.7 * d) * sqrt(1 - 0.62 * share * share)
        y, sag = roll / 2 + share * (roll / 2 - 0.5 * d), share * 0.5 * d
        line = [(-reach, y, 5), (0.0, y + 2 * sag, 5), (reach, y, 5)]
        own += course(1, line, knotters[1][1], (5,))
        own += course(0, [(-reach, y, -5), (reach, y, -5)], knotters[0][1], (-5,))
    for side in (-1, 1):
        x = side * (half - 0.6 * d)
        line = [(x * 0.8, roll * 0.22, 7), (x, roll * 0.4, 7), (x, roll * 0.6, 7),
                (x * 0.8, roll * 0.78, 7)]  # fmt: skip
        own += course(0, line, knotters[0][1], (7,))
    return own


def _over_the_top(fillers: tuple[Point, ...], roll: float, d: float) -> list[Segment]:
    """Return the fillers that go up over the front and into the gap above the first knot."""
    own: list[Segment] = []
    for number, x in enumerate(spread(len(fillers), d)):
        own += course(2 + number, [(x, 0.0, 6), (x, roll * 0.3, 6)], fillers[number][1], (6,))
        own += course(2 + number, [(x, 0.0, 0), (x, roll, 0)], fillers[number][1])
    return own
