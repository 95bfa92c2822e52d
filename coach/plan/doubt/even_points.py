"""Points of a normal in several directions, spread evenly, the same in every run.

The lattice goes on by powers of the generalised golden ratio (the root of x^(n+1) = x + 1; Roberts
2018, from memory), each point with its mirror image, so that means are met exactly.
"""

from functools import lru_cache
from statistics import NormalDist
from typing import Final, TypeAlias

Point: TypeAlias = tuple[float, ...]
_TURNS: Final = 40  # of a fixed point that halves its error each time


@lru_cache(maxsize=16)
def normal_points(directions: int, pairs: int) -> tuple[Point, ...]:
    """Return so many points of a standard normal in some directions, and their mirror images."""
    ratio = _golden(directions)
    steps = [ratio ** -(place + 1) % 1 for place in range(directions)]
    quantile = NormalDist().inv_cdf
    points = []
    for number in range(1, pairs + 1):
        point = tuple(quantile((0.5 + number * step) % 1 or 0.5) for step in steps)
        points += [point, tuple(-value for value in point)]
    return tuple(points)


def _golden(directions: int) -> float:
    ratio = 2.0
    for _ in range(_TURNS):
        ratio = (1 + ratio) ** (1 / (directions + 1))
    return ratio
