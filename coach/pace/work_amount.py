"""Stretches of work in standard seconds, and the times that a file states."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from math import log, sqrt
from types import MappingProxyType
from typing import Final

from coach.pace.prior import QUICKEST, STATED, WAIT, prior_s

Z80: Final = 1.2815515655446004
"""Half-width of the middle 80 % of a normal, in standard deviations."""

LONGEST_S: Final = 1e9
"""No work takes longer: thirty years."""

PART_S: Final = 30.0
"""Standard seconds: work that takes longer is made of parts that differ singly: rough."""


@dataclass(frozen=True, slots=True)
class WorkAmount:
    """Some work: its standard seconds by kind, and the sum of their squares over counts."""

    standard_s: Mapping[str, float] = field(default_factory=lambda: MappingProxyType({}))
    squares: float = 0.0

    @property
    def hands_s(self) -> float:
        """The standard seconds of handwork, waiting left out."""
        return sum(s for kind, s in self.standard_s.items() if kind != WAIT)

    @property
    def least_s(self) -> float:
        """The fastest that any hand does it, in seconds.

        A time that a file's writer claims is left out: it could drop what hands really take.
        """
        return QUICKEST * (self.hands_s - self.standard_s.get(STATED, 0.0))

    def of_counts(self, number: int) -> "WorkAmount":
        """Return the same work divided into so many equal counts.

        Raises:
            ValueError: The work takes no time.
        """
        if not all(0 <= s <= LONGEST_S for s in self.standard_s.values()):
            raise ValueError("these are no standard times")
        return replace(self, squares=number * squared(self.hands_s / number))

    def and_also(self, more: "WorkAmount") -> "WorkAmount":
        """Return this work and some more of it."""
        added = {k: self.standard_s.get(k, 0.0) + s for k, s in more.standard_s.items()}
        return WorkAmount({**self.standard_s, **added}, self.squares + more.squares)


def squared(count_s: float) -> float:
    """Return the square of a count's standard seconds; a long count is many parts that vary."""
    return count_s * min(count_s, PART_S)


def ties(knot: str, number: int = 1) -> WorkAmount:
    """Return the work of a number of ties of one knot, with the usual passes and ends."""
    return WorkAmount({knot: number * prior_s(knot)}, number * squared(prior_s(knot)))


def read_range(least: float, most: float) -> tuple[float, float]:
    """Return the middle of an 80 % range in s, and its sd in log seconds."""
    most = max(least, most)
    least = max(least, most / 100)  # a range from nothing has no logarithm
    if most <= 0:
        return 0.0, 0.0
    return sqrt(least * most), log(most / least) / (2 * Z80)
