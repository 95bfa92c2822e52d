"""What measured cord and lengths teach of a maker's cords and hands.

Every figure (the compression of a cord, the slack of a knot in a cord) is believed to be normal
about a mean. What is measured depends on the figures along slopes; the figures that fit beliefs
and measurements best, each over its standard deviation, are their new means (linear least
squares with a prior). A measured length speaks about compression alone, a measured remainder
about compression times (1 + slack), a swatch about both; much cord outweighs little, since a
slope grows with the cord that it is about while the error of reading does not.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from math import sqrt
from types import MappingProxyType
from typing import Final, TypeAlias

from coach.pace.least_squares import Row, beliefs_together, fit

Figure: TypeAlias = tuple[str, str]
"""(cord, "") is a cord's compression, (cord, knot) the slack of a knot in it."""


Together: TypeAlias = Callable[[Figure, Figure], float]
"""Gives the correlation of two figures that are not the same."""


def apart(one: Figure, other: Figure) -> float:
    """Return that two figures do not move together."""
    del one, other
    return 0.0


@dataclass(frozen=True, slots=True)
class Belief:
    """What is thought of one figure: its mean and standard deviation.

    `together` are its correlations with other figures, where measures left some.
    """

    mean: float
    sd: float
    together: Mapping[Figure, float] = field(default_factory=lambda: MappingProxyType({}))


@dataclass(frozen=True, slots=True)
class Sight:
    """One measurement: what was expected of it, what was seen, and how it follows the figures.

    `slopes` are mm for each unit of a figure about the values that `expected_mm` was worked out
    with; `sd_mm` is how far the sight may be off where the figures are right.
    """

    slopes: Mapping[Figure, float]
    expected_mm: float
    seen_mm: float
    sd_mm: float


@dataclass(frozen=True, slots=True)
class Learnt:
    """The figures as they are thought of after all that was measured, with what they share."""

    figures: tuple[Figure, ...]
    means: tuple[float, ...]
    covariance: tuple[tuple[float, ...], ...]

    def belief(self, figure: Figure) -> Belief:
        """Return what is thought of one figure. Raises ValueError for one that is not there."""
        at = self.figures.index(figure)
        return Belief(self.means[at], sqrt(max(0.0, self.covariance[at][at])))

    @property
    def beliefs(self) -> dict[Figure, Belief]:
        """What is thought of every figure."""
        return {figure: self.belief(figure) for figure in self.figures}

    def together(self, one: Figure, other: Figure) -> float:
        """Return the correlation of two figures."""
        i, j = sorted((self.figures.index(one), self.figures.index(other)))
        whole = sqrt(self.covariance[i][i] * self.covariance[j][j])
        return self.covariance[i][j] / whole if whole else 0.0

    def spread(self, slopes: Mapping[Figure, float]) -> float:
        """Return the standard deviation, in mm, of what follows the figures along these slopes."""
        along = [(i, slopes[f]) for i, f in enumerate(self.figures) if slopes.get(f)]
        variance = sum(
            [one * other * self.covariance[i][j] for i, one in along for j, other in along]
        )
        return sqrt(max(0.0, variance))


def learn(
    believed: Mapping[Figure, Belief],
    worked_with: Mapping[Figure, float],
    sights: Sequence[Sight],
    together: Together = apart,
) -> Learnt:
    """Return the figures that fit beliefs and sights best.

    Args:
        believed: What is thought of every figure beforehand, with sds above zero.
        worked_with: The values about which the sights' slopes and expectations hold.
        sights: What was measured; figures that are not believed in are left out of account.
        together: The correlation of two figures beforehand.
    """
    figures = tuple(believed)
    means, sds = [believed[f].mean for f in figures], [believed[f].sd for f in figures]
    covariance = [
        [
            (together(f, g) if f != g else 1.0) * sd * other
            for g, other in zip(figures, sds, strict=True)
        ]
        for f, sd in zip(figures, sds, strict=True)
    ]
    rows = beliefs_together(means, covariance)
    for sight in sights:
        slopes = tuple(sight.slopes.get(figure, 0.0) for figure in figures)
        about = sum(s * worked_with[f] for s, f in zip(slopes, figures, strict=True))
        rows.append(Row(slopes, sight.seen_mm - sight.expected_mm + about, sight.sd_mm))
    if not rows:
        return Learnt((), (), ())
    found = fit(rows)
    return Learnt(figures, found.values, found.covariance)


OLDER_SD: Final = 1.25
"""By how much a belief is less sure for the next piece: hands and cords differ a little: rough."""


def carried(
    learnt: Mapping[Figure, Belief], prior: Mapping[Figure, Belief]
) -> dict[Figure, Belief]:
    """Return the beliefs for the next piece: what was learnt, a little less sure, or the prior."""
    beliefs = {}
    for figure, first in prior.items():
        known = learnt.get(figure)
        sure = known is not None and known.sd < first.sd
        beliefs[figure] = (
            Belief(known.mean, min(first.sd, known.sd * OLDER_SD), known.together)
            if known and sure
            else first
        )
    return beliefs
