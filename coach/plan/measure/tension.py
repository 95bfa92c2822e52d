"""A maker's hands: the compression of her cords and the slack of her knots.

Compression scales a knot's cord and its extents together; slack is extra cord only, in the
strands that knot.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from types import MappingProxyType
from typing import Final, TypeAlias

from coach.plan.measure.fibres import UNKNOWN, give_of
from coach.project.model import Project

Figure: TypeAlias = tuple[str, str]
"""What is not known beforehand: (cord, "") its compression, (cord, knot) the slack of that."""

Slopes: TypeAlias = Mapping[Figure, float]
"""By how many mm something grows for each unit of a figure."""

Spread: TypeAlias = Callable[[Slopes], float]
"""Gives the standard deviation in mm that the doubt in the figures makes."""

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
