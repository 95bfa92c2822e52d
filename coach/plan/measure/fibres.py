"""The usual compression of a cord, by what it is made of."""

import re
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

from coach.knots.geometry import COMPRESSION

_NINE_IN_TEN: Final = 2 * 1.6448536269514722  # standard deviations between 5 and 95 in a hundred


@dataclass(frozen=True, slots=True)
class Give:
    """A usual compression (contact diameter / nominal diameter), and how cords of a kind vary.

    Nine cords in ten lie between `low` and `high`, with the likely value in the middle.
    """

    low: float
    high: float

    @property
    def likely(self) -> float:
        """The value for a cord that nobody has measured."""
        return (self.low + self.high) / 2

    @property
    def sd(self) -> float:
        """The standard deviation of cords of this kind, read as a normal."""
        return (self.high - self.low) / _NINE_IN_TEN


SOFT: Final = Give(COMPRESSION - 0.08, COMPRESSION + 0.08)
"""Soft cotton and wool: about the printed net of square knots (see `coach.knots.ties`); the range
is rough, no source."""

HARD: Final = Give(0.82, 0.98)
"""Hard-laid and waxed cord, hemp, linen, jute, synthetics: nearer to 1, for coarse stiff thread
takes more length a knot (Dillmont, p. 345, read); the figures are rough, no source."""

UNKNOWN: Final = Give(0.70, 0.94)
"""A cord that does not say what it is made of, or is made of both kinds."""

_HARDENED: Final = frozenset({"waxed", "hard", "paracord", "coated", "starched"})
_HARD: Final = frozenset(
    {
        "hemp", "linen", "flax", "jute", "sisal", "raffia", "ramie", "paper", "leather", "nylon",
        "polyamide", "polyester", "polypropylene", "polyethylene", "synthetic", "wire",
    }
)  # fmt: skip
_SOFT: Final = frozenset(
    {"cotton", "wool", "bamboo", "viscose", "rayon", "lyocell", "modal", "silk", "alpaca", "jersey"}
)
_WORD: Final = re.compile(r"[^\W\d_]+")


@lru_cache(maxsize=256)
def give_of(fibre: str) -> Give:
    """Return the usual compression of a fibre.

    Args:
        fibre: The fibre in the maker's words, "" where it is not stated.
    """
    words = set(_WORD.findall(fibre.casefold()))
    if words & _HARDENED:
        return HARD
    hard, soft = bool(words & _HARD), bool(words & _SOFT)
    if hard == soft:
        return UNKNOWN
    return HARD if hard else SOFT
