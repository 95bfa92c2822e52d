"""Evenly spread points of a normal distribution in several directions, the same in every run.

Halton's points (*Numer. Math.* 2, 1960; from memory), each with its mirror image, so that means
are met exactly. They are good for a handful of directions; `main_directions` finds that many.
"""

from collections.abc import Sequence
from functools import lru_cache
from math import hypot
from operator import mul
from statistics import NormalDist
from typing import Final, TypeAlias

Point: TypeAlias = tuple[float, ...]
_BASES: Final = (2, 3, 5, 7, 11, 13, 17, 19)
MOST: Final = len(_BASES)
"""Directions at most."""
_FIRST: Final = 21  # the first points lie in rows
_SMALL: Final = 0.05  # of the longest vector: what is less in a further direction is left out


@lru_cache(maxsize=32)
def normal_points(directions: int, pairs: int) -> tuple[Point, ...]:
    """Return points of a standard normal: `pairs` of them and their mirror images."""
    points: list[Point] = []
    for point in zip(*(_along_one(base, pairs) for base in _BASES[:directions]), strict=True):
        points += [point, tuple(-value for value in point)]
    return tuple(points)


@lru_cache(maxsize=32)
def _along_one(base: int, count: int) -> Point:
    """Return the first coordinates of a Halton sequence in a base, as normal deviates."""
    quantile = NormalDist().inv_cdf
    return tuple(quantile(_inverse(number, base)) for number in range(_FIRST, _FIRST + count))


def _inverse(number: int, base: int) -> float:
    """Return a number's digits in a base, mirrored at the point: between 0 and 1."""
    share, found = 1.0, 0.0
    while number:
        number, digit = divmod(number, base)
        share /= base
        found += digit * share
    return found


def main_directions(vectors: Sequence[Point]) -> list[Point]:
    """Return a few orthogonal directions that nearly span these vectors.

    The first is that of the longest vector, the next that of the longest remainder, and so on.
    """
    found: list[Point] = []
    rests = list(dict.fromkeys(vectors))
    longest = max((hypot(*rest) for rest in rests), default=0.0)
    while rests and len(found) < MOST:
        rest = max(rests, key=lambda vector: hypot(*vector))
        length = hypot(*rest)
        if length <= _SMALL * longest:
            break
        way = tuple(value / length for value in rest)
        found.append(way)
        rests = [_less(vector, way) for vector in rests]
    return found


def along(vector: Sequence[float], ways: Sequence[Point]) -> Point:
    """Return the coordinates of a vector along some directions."""
    return tuple(sum(map(mul, vector, way)) for way in ways)


def _less(vector: Point, way: Point) -> Point:
    far = sum(map(mul, vector, way))
    return tuple(value - far * one for value, one in zip(vector, way, strict=True))
