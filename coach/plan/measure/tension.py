"""A maker's hands and cords: how far each cord gives, how slack each knot is tied.

Compression scales a knot's cord and its extents together; slack is extra cord only, in the
strands that knot.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Final, TypeAlias

from coach.knots.geometry import COMPRESSION, COMPRESSION_RANGE

Figure: TypeAlias = tuple[str, str]
"""What is not known beforehand: (cord, "") its compression, (cord, knot) the slack of that."""

Slopes: TypeAlias = Mapping[Figure, float]
"""By how many mm something grows for each unit of a figure."""

Spread: TypeAlias = Callable[[Slopes], float]
"""Gives the standard deviation in mm that the doubt in the figures makes."""

COMPRESSION_SD: Final = (COMPRESSION_RANGE[1] - COMPRESSION_RANGE[0]) / (2 * 1.645)
"""The known range of compressions read as the middle 90 % of a normal: rough."""

SLACK_SD: Final = 0.05
"""How far knots of one kind may be tied firmer or looser than the model's: rough, no source."""


@dataclass(frozen=True, slots=True)
class Hands:
    """Compression (contact diameter / nominal diameter) by cord, slack by cord and knot."""

    compression: Mapping[str, float] = field(default_factory=lambda: MappingProxyType({}))
    slack: Mapping[Figure, float] = field(default_factory=lambda: MappingProxyType({}))

    def compression_of(self, cord: str) -> float:
        """Return a cord's compression."""
        return self.compression.get(cord, COMPRESSION)

    def slack_of(self, cord: str, knot: str) -> float:
        """Return the share of a knot's cord that is used beyond the model."""
        return self.slack.get((cord, knot), 0.0)

    def figure(self, figure: Figure) -> float:
        """Return the value of a figure."""
        return self.slack_of(*figure) if figure[1] else self.compression_of(figure[0])

    def with_figures(self, values: Mapping[Figure, float]) -> "Hands":
        """Return the hands with some figures put in the place of what was there."""
        compression = {cord: value for (cord, knot), value in values.items() if not knot}
        slack = {figure: value for figure, value in values.items() if figure[1]}
        return Hands({**self.compression, **compression}, {**self.slack, **slack})


NOMINAL: Final = Hands()
"""What is taken for granted of cord and hands that nobody has measured."""


def prior_sd(figure: Figure) -> float:
    """Return the standard deviation of a figure before anything was measured."""
    return SLACK_SD if figure[1] else COMPRESSION_SD


def prior_spread(slopes: Slopes) -> float:
    """Return the doubt in mm before anything was measured; figures differ independently."""
    return float(sum((slope * prior_sd(f)) ** 2 for f, slope in slopes.items()) ** 0.5)
