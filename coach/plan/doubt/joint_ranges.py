"""Several normals at once: small covariance matrices in plain Python, and ranges that all hold."""

from collections.abc import Sequence
from functools import lru_cache
from math import hypot, sqrt
from operator import mul
from statistics import NormalDist
from typing import Final, TypeAlias

Matrix: TypeAlias = tuple[tuple[float, ...], ...]
_LEAST: Final = 1e-14  # of a variance: what rounding leaves of one that is nothing


def cholesky(matrix: Sequence[Sequence[float]]) -> list[list[float]]:
    """Return the lower triangular Cholesky factor of a positive definite matrix.

    Variances that rounding has made zero or negative are taken as tiny.
    """
    size = len(matrix)
    lower = [[0.0] * size for _ in range(size)]
    for i in range(size):
        for j in range(i + 1):
            rest = matrix[i][j] - sum(lower[i][k] * lower[j][k] for k in range(j))
            if i == j:
                lower[i][i] = sqrt(max(rest, _LEAST))
            else:
                lower[i][j] = rest / lower[j][j]
    return lower


def solved(matrix: Sequence[Sequence[float]], right: Sequence[float]) -> list[float]:
    """Solve a linear system with a positive definite matrix."""
    lower, size = cholesky(matrix), len(matrix)
    half = [0.0] * size
    for i in range(size):
        half[i] = (right[i] - sum(lower[i][k] * half[k] for k in range(i))) / lower[i][i]
    found = [0.0] * size
    for i in reversed(range(size)):
        known = sum(lower[k][i] * found[k] for k in range(i + 1, size))
        found[i] = (half[i] - known) / lower[i][i]
    return found


def times(matrix: Sequence[Sequence[float]], right: Sequence[float]) -> list[float]:
    """Return the product of a matrix and a column."""
    return [sum(a * b for a, b in zip(row, right, strict=True)) for row in matrix]


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


Z80: Final = 1.2815515655446004
"""Half the width of the middle 80 % of a normal, in standard deviations."""
_SHARE: Final = 0.8
_PAIRS: Final = 512


def deviations_at_once(covariance: Sequence[Sequence[float]]) -> float:
    """Return the half-width, in deviations, at which several normals all lie within 80 %.

    Exactly known ones are left out, and so are those after the first eight: values that move
    together hardly need more than one alone.

    Args:
        covariance: Their covariance matrix.
    """
    at = [i for i, row in enumerate(covariance) if row[i] > 0][:MOST]
    if len(at) <= 1:
        return Z80
    sds = [sqrt(covariance[i][i]) for i in at]
    lower = cholesky(
        [[covariance[i][j] / (a * b) for j, b in zip(at, sds, strict=True)]
         for i, a in zip(at, sds, strict=True)]
    )  # fmt: skip
    farthest: list[float] = sorted(
        max(abs(sum(map(mul, row, point))) for row in lower)
        for point in normal_points(len(at), _PAIRS)[::2]  # a mirror image is as far
    )
    return farthest[int(_SHARE * len(farthest))]
