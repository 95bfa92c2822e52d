"""The search for the number of repeats that comes nearest to a length."""

from collections.abc import Callable
from dataclasses import dataclass
from itertools import count
from math import ceil, inf, isfinite
from typing import Final, TypeAlias

CLOSE_MM: Final = 0.05
"""Lengths that differ by less are one length."""

LengthOf: TypeAlias = Callable[[int], float | None]
"""The length with so many steps more than now (fewer, below zero), in mm.

None where that cannot be made, and then neither can anything beyond it.
"""


class NotLonger(Exception):
    """More repeats do not make the work longer, so that no number reaches a length."""


@dataclass(frozen=True, slots=True)
class Nearest:
    """The number of extra steps that comes nearest, its length, and the length of one step."""

    steps: int
    length_mm: float
    step_mm: float

    def reaches(self, wish_mm: float) -> bool:
        """Return whether the length is as near to a wish as steps of this size come."""
        return abs(self.length_mm - wish_mm) <= self.step_mm


def nearest_repeats(length_of: LengthOf, wish_mm: float) -> Nearest:
    """Return the number of steps whose length comes nearest to a wish, the fewer if two are.

    Lengths grow with the number and nearly evenly, so interpolation between two of them lands close
    to the number sought, and bisection makes sure that the search ends. Each length costs a
    compilation, so none is asked for twice: four are enough where every step adds the same.

    Args:
        length_of: Return the length in mm with so many extra steps; 0 and 1 more or fewer must
            exist.
        wish_mm: The length wished for.

    Raises:
        NotLonger: More steps do not make it longer.
    """
    lengths = _Lengths(length_of)
    way = 1 if lengths.at(0) < wish_mm else -1
    near = way if isfinite(lengths.at(way)) else -way
    step_mm = (lengths.at(near) - lengths.at(0)) * near
    if not step_mm >= CLOSE_MM:
        raise NotLonger
    low, high = _bracket(lengths, wish_mm, way, step_mm)
    for turn in count():
        if high - low <= 1:
            break
        middle = lengths.between(low, high, wish_mm) if turn % 2 == 0 else (low + high) // 2
        low, high = (middle, high) if lengths.at(middle) < wish_mm else (low, middle)
    possible = [steps for steps in (low, high) if isfinite(lengths.at(steps))]
    best = min(possible, key=lambda steps: abs(lengths.at(steps) - wish_mm))
    return Nearest(best, lengths.at(best), step_mm)


def _bracket(lengths: "_Lengths", wish_mm: float, way: int, step_mm: float) -> tuple[int, int]:
    """Return two numbers of steps between whose lengths the wish lies."""
    near, far = 0, way
    while (lengths.at(far) < wish_mm) == (way > 0):
        missing = ceil(abs(wish_mm - lengths.at(far)) / step_mm)
        near, far = far, far + way * max(1, missing)
    return min(near, far), max(near, far)


class _Lengths:
    """A cache of lengths; what cannot be made is infinitely far off."""

    def __init__(self, length_of: LengthOf) -> None:
        self._length_of = length_of
        self._known: dict[int, float] = {}

    def at(self, steps: int) -> float:
        """Return the length with so many extra steps, in mm."""
        if steps not in self._known:
            found = self._length_of(steps)
            self._known[steps] = found if found is not None else inf if steps > 0 else -inf
        return self._known[steps]

    def between(self, low: int, high: int, wish_mm: float) -> int:
        """Return an interpolated number between two, where the lengths would meet the wish."""
        below, above = self.at(low), self.at(high)
        if not isfinite(above - below) or above <= below:
            return (low + high) // 2
        met = low + int((wish_mm - below) / (above - below) * (high - low))
        return min(max(met, low + 1), high - 1)
