"""A maker's hands: the compression of her cords and the slack of her knots.

Compression scales a knot's cord and its extents together; slack is extra cord only, in the
strands that knot.
"""

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from functools import lru_cache
from types import MappingProxyType
from typing import Final, TypeAlias

from coach.knots.geometry import COMPRESSION
from coach.project.model import Project

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


Figure: TypeAlias = tuple[str, str]
"""What is not known beforehand: (cord, "") its compression, (cord, knot) the slack of that."""

Slopes: TypeAlias = Mapping[Figure, float]
"""By how many mm something grows for each unit of a figure."""

Spread: TypeAlias = Callable[[Slopes], float]
"""Returns the standard deviation in mm of a length, from the uncertainty of its figures."""

SLACK_SD: Final = 0.056
"""How far knots of one kind may take more or less than the model's: rough, no source.

Hands differ by a twentieth, and the formulas meet the tightened knots within 5 %.
"""


@dataclass(frozen=True, slots=True)
class Hands:
    """Compression (contact diameter / nominal diameter) by cord, slack by cord and knot.

    `sds` are the standard deviations of the figures that were measured, `together` the correlations
    between two of them. Figures not measured are those of any maker (see `coach.plan.doubt.doubt`).
    """

    compression: Mapping[str, float] = field(default_factory=lambda: MappingProxyType({}))
    slack: Mapping[Figure, float] = field(default_factory=lambda: MappingProxyType({}))
    sds: Mapping[Figure, float] = field(default_factory=lambda: MappingProxyType({}))
    together: Mapping[tuple[Figure, Figure], float] = field(
        default_factory=lambda: MappingProxyType({})
    )

    def compression_of(self, cord: str) -> float:
        """Return a cord's compression; if it is not known, that of a cord of unknown fibre."""
        return self.compression.get(cord, UNKNOWN.likely)

    def slack_of(self, cord: str, knot: str) -> float:
        """Return the share of a knot's cord that is used beyond the model."""
        return self.slack.get((cord, knot), 0.0)

    def figure(self, figure: Figure) -> float:
        """Return the value of a figure."""
        return self.slack_of(*figure) if figure[1] else self.compression_of(figure[0])

    def with_figures(self, values: Mapping[Figure, float]) -> "Hands":
        """Return the hands with the values of some figures replaced."""
        compression = {cord: value for (cord, knot), value in values.items() if not knot}
        slack = {figure: value for figure, value in values.items() if figure[1]}
        return replace(
            self,
            compression={**self.compression, **compression},
            slack={**self.slack, **slack},
        )


NOMINAL: Final = Hands()
"""The hands of somebody who has not measured anything."""


def usual_hands(project: Project, hands: Hands = NOMINAL) -> Hands:
    """Return hands that know every cord of a project, by its fibre if not otherwise.

    Args:
        project: The project.
        hands: What is known already, which is kept.
    """
    usual = {name: give_of(cord.fibre).likely for name, cord in project.cords.items()}
    return replace(hands, compression={**usual, **hands.compression})
