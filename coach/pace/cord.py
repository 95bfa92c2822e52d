"""What measured cord and lengths teach of a maker's cords and hands.

Every figure (the compression of a cord, the slack of a knot in a cord) is believed to be normal
about a mean. What is measured depends on the figures along slopes; the figures that fit beliefs
and measurements best, each over its standard deviation, are their new means (`gaussian`: least
squares with a prior). A measured length speaks about compression alone, a measured remainder
about compression times (1 + slack), a swatch about both; much cord outweighs little, since a
slope grows with the cord that it is about while the error of reading does not.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final, TypeAlias

from coach.pace.gaussian import Belief, Joint, independent, observed

Figure: TypeAlias = tuple[str, str]
"""(cord, "") is a cord's compression, (cord, knot) the slack of a knot in it."""


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


Learnt: TypeAlias = Joint[Figure]
"""The figures as they are thought of after all that was measured, with what they share."""


def learn(
    believed: Mapping[Figure, Belief] | Learnt,
    worked_with: Mapping[Figure, float],
    sights: Sequence[Sight],
) -> Learnt:
    """Return the figures that fit beliefs and sights best.

    Args:
        believed: What is thought of every figure beforehand, with sds above zero; by itself, or
            jointly.
        worked_with: The values about which the sights' slopes and expectations hold.
        sights: What was measured; figures that are not believed in are left out of account.
    """
    learnt = believed if isinstance(believed, Joint) else independent(believed)
    for sight in sights:
        means = zip(learnt.unknowns, learnt.means, strict=True)
        moved = sum(sight.slopes.get(f, 0.0) * (mean - worked_with[f]) for f, mean in means)
        off = sight.seen_mm - sight.expected_mm - moved
        learnt = observed(learnt, sight.slopes, off, sight.sd_mm**2)
    return learnt


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
            replace(known, sd=min(first.sd, known.sd * OLDER_SD)) if known and sure else first
        )
    return beliefs
