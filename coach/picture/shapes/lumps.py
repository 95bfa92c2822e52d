"""Knots that are tied once: overhand, josephine and berry knots."""

from functools import lru_cache
from math import hypot, sqrt
from typing import Final

from coach.knots import names
from coach.picture.scene import Point, Shape, Stretch
from coach.picture.shapes.curves import Vertex, beside, course, moved, shape, spread
from coach.picture.shapes.sennits import flat_tie

_OVERHAND: Final[tuple[Vertex, ...]] = (
    (-0.1, 0.0, 0), (-0.3, 0.5, 0), (-0.35, 1.5, 2), (-0.2, 2.45, 1), (0.85, 2.5, 0),
    (0.95, 1.4, 0), (0.6, 0.35, 3), (-0.9, 0.55, 3), (-1.05, 1.5, 1), (0.2, 1.75, 1),
    (0.75, 2.2, 1), (0.3, 2.7, 1), (0.1, 2.9, 1),
)  # fmt: skip
"""A bundle on itself: across and down in its own diameters, drawn up; the end goes through."""
_DOUBLE: Final[tuple[Vertex, ...]] = (
    (-0.1, 0.0, 0), (-0.3, 0.5, 0), (-0.3, 2.0, 0), (-0.2, 3.4, 1), (0.85, 3.5, 0),
    (0.95, 1.9, 0), (0.6, 0.35, 3), (-0.9, 0.5, 3), (-1.1, 1.2, 1), (-0.2, 1.35, -1),
    (0.45, 1.5, -1), (0.4, 1.75, 3), (-0.9, 1.7, 3), (-1.1, 2.4, 1), (0.2, 2.7, 2),
    (0.75, 3.1, 2), (0.3, 3.7, 2), (0.1, 3.9, 2),
)  # fmt: skip
_LEFT: Final[tuple[Vertex, ...]] = (
    (2, 0, 1), (3.0, 3.0, 0), (3.6, 6.0, 2), (4.4, 9.4, 1), (6.4, 11.6, 2), (8.6, 11.0, 2),
    (10.2, 9.2, 1), (10.6, 7.2, 0), (9.6, 5.2, 1), (7.6, 4.7, 2), (5.0, 4.6, 0), (3.0, 4.8, 2),
    (1.2, 6.6, 2), (1.0, 9.5, 1), (2, 14, 1),
)  # fmt: skip
"""The left half of a josephine knot on a board of 12 by 14; the right half is the same turned
half round. Which lies over which alternates all along both."""


@lru_cache(maxsize=1024)
def overhand(knot: str, looks: tuple[Point, ...], turns: int = 1) -> Shape:
    """Shape a bundle that is knotted on itself."""
    thick = hypot(*(look[0] for look in looks))
    line = _OVERHAND if knot == names.OVERHAND and turns == 1 else _DOUBLE
    high = line[-1][1]
    scaled = [(x * thick, y * thick, 2 * layer) for x, y, layer in line]
    apart = (thick - max(look[1] for look in looks) * 0.6) / max(1, len(looks) - 1)
    aside = spread(len(looks), apart if len(looks) > 1 else 0.0)
    own: list[Stretch] = []
    for who, by in enumerate(aside):
        own += course(who, beside(scaled, by), looks[who][1])
    box = (-1.5 * thick, 0.0, 1.5 * thick, high * thick)
    return shape(own, [(scaled[0][0] + by, 0.0) for by in aside],
                 [(scaled[-1][0] + by, high * thick) for by in aside],
                 ("overhand", knot, looks, turns), 0.0, box)  # fmt: skip


@lru_cache(maxsize=1024)
def josephine(looks: tuple[Point, ...], across_mm: float, down_mm: float) -> Shape:
    """Shape two halves interlaced flat; `looks` are the strands from the left."""
    half = len(looks) // 2
    band = sum(look[0] for look in looks) / 2
    left = [((x - 6) / 9.6 * (across_mm - band), (y - 7) / 14 * down_mm * 1.12, layer)
            for x, y, layer in _LEFT]  # fmt: skip
    left[0], left[-1] = (left[0][0], -down_mm / 2, 1), (left[-1][0], down_mm / 2, 1)
    right = [(-x, -y, layer) for x, y, layer in reversed(_weave(left))]
    own: list[Stretch] = []
    aside = spread(half, band / half)
    for who, by in enumerate(aside):
        own += course(who, beside(left, by), looks[who][1])
        own += course(half + who, beside(right, by), looks[half + who][1])
    down = moved(own, lambda point: (point[0], point[1] + down_mm / 2))
    enter = [(left[0][0] + by, 0.0) for by in aside], [(right[0][0] + by, 0.0) for by in aside]
    leave = (
        [(left[-1][0] + by, down_mm) for by in aside],
        [(right[-1][0] + by, down_mm) for by in aside],
    )
    box = (-across_mm / 2, 0.0, across_mm / 2, down_mm)
    return shape(down, [*enter[0], *enter[1]], [*leave[0], *leave[1]],
                 ("josephine", looks, across_mm, down_mm), 0.0, box)  # fmt: skip


def _weave(line: list[Vertex]) -> list[Vertex]:
    return line


@lru_cache(maxsize=1024)
def berry(
    knotters: tuple[Point, Point], fillers: tuple[Point, ...], across_mm: float, down_mm: float
) -> Shape:
    """Shape square knots rolled up into a ball, and the square knot below that locks it."""
    d = (knotters[0][0] + knotters[1][0]) / 2
    roll = down_mm - 4.0 * d
    lock = flat_tie(names.SQUARE, knotters, fillers, across_mm - 2 * d, 4.0 * d)
    own = moved(lock.stretches, lambda point: (point[0], point[1] + roll))
    own += _ball(knotters, across_mm / 2, roll, d)
    own += _over_the_top(fillers, roll, d)
    for side, who in ((-1, 0), (1, 1)):
        x = side * (across_mm / 2 - 1.6 * d)
        own += course(who, [(x, 0.0, 1), (x, roll, 1)], knotters[who][1])
    leave = [(x, y + roll) for x, y in lock.leave]
    box = (-across_mm / 2, 0.0, across_mm / 2, down_mm)
    return shape(own, lock.enter, leave,
                 ("berry", knotters, fillers, across_mm, down_mm), 0.0, box)  # fmt: skip


def _ball(knotters: tuple[Point, Point], half: float, roll: float, d: float) -> list[Stretch]:
    """Lay the bars that show on the roll, bulging, and the bights that end them."""
    own: list[Stretch] = []
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


def _over_the_top(fillers: tuple[Point, ...], roll: float, d: float) -> list[Stretch]:
    """Lay the fillers that go up over the front and into the gap above the first knot."""
    own: list[Stretch] = []
    for number, x in enumerate(spread(len(fillers), d)):
        own += course(2 + number, [(x, 0.0, 6), (x, roll * 0.3, 6)], fillers[number][1], (6,))
        own += course(2 + number, [(x, 0.0, 0), (x, roll, 0)], fillers[number][1])
    return own
