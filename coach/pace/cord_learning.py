"""Learning a maker's compression and slack from measured cord and lengths.

Every figure (the compression of a cord, the slack of a knot in a cord) is believed to be normal
about a mean. What is measured depends on the figures along slopes; the figures that fit beliefs
and measurements best, each over its standard deviation, are their new means (`gaussian`: least
squares with a prior). A measured length speaks about compression alone, a measured remainder
about compression times (1 + slack), a swatch about both; much cord outweighs little, since a
slope grows with the cord that it is about while the error of reading does not.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from math import hypot, sqrt
from typing import Final, TypeAlias

from coach.pace.gaussian import Belief, Joint, conditioned, independent, widened

Figure: TypeAlias = tuple[str, str]
"""(cord, "") is a cord's compression, (cord, knot) the slack of a knot in it."""


@dataclass(frozen=True, slots=True)
class Observation:
    """One measurement: the expected and the measured value, and its slopes by figure.

    `slopes` are mm for each unit of a figure about the values that `expected_mm` was worked out
    with; `sd_mm` is the error of the measurement if the figures are right. A `doubted` one was
    questioned and kept all the same. `since` is the share of the work since the measurement before.
    """

    slopes: Mapping[Figure, float]
    expected_mm: float
    seen_mm: float
    sd_mm: float
    doubted: bool = False
    since: float = 0.0


Learnt: TypeAlias = Joint[Figure]
"""The figures as they are thought of after all that was measured, with what they share."""


def learn(
    believed: Mapping[Figure, Belief] | Learnt,
    worked_with: Mapping[Figure, float],
    sights: Sequence[Observation],
) -> Learnt:
    """Return the figures that fit beliefs and measurements best.

    Args:
        believed: The prior of every figure, with sds above zero, independent or joint.
        worked_with: The values about which slopes and expectations hold.
        sights: The measurements; slopes of figures without a prior are ignored.
    """
    learnt = believed if isinstance(believed, Joint) else independent(believed)
    for sight in sights:
        learnt = with_drift(learnt, sight.since)
        # The expectation was computed at `worked_with`; the means have moved since.
        means = zip(learnt.unknowns, learnt.means, strict=True)
        moved = sum(sight.slopes.get(f, 0.0) * (mean - worked_with[f]) for f, mean in means)
        off = sight.seen_mm - sight.expected_mm - moved
        sd = _doubted_sd(learnt, sight, off) if sight.doubted else sight.sd_mm
        learnt = conditioned(learnt, sight.slopes, off, sd**2)
    return learnt


def surprise(learnt: Learnt, sight: Observation, off_mm: float) -> float:
    """Return how many predictive standard deviations a measurement is off.

    Args:
        learnt: The current belief about cord and hands.
        sight: The measurement, with its own deviation.
        off_mm: The difference from what is expected, either way.
    """
    return abs(off_mm) / hypot(learnt.spread(sight.slopes), sight.sd_mm)


def is_implausible(learnt: Learnt, sight: Observation, off_mm: float) -> bool:
    """Return whether fitting a measurement would take a compression that no cord has.

    Args:
        learnt: The current belief about cord and hands.
        sight: The measurement, with its own deviation.
        off_mm: Measured minus expected.
    """
    fitted = conditioned(learnt, sight.slopes, off_mm, sight.sd_mm**2)
    cords = [fitted.belief(figure).mean for figure in fitted.unknowns if not figure[1]]
    return any(not THINNEST <= mean <= THICKEST for mean in cords)


def with_drift(learnt: Learnt, share: float) -> Learnt:
    """Return the figures less sure after a share of the work: hands change over a piece."""
    slack = [figure for figure in learnt.unknowns if figure[1]]
    return widened(learnt, dict.fromkeys(slack, share * DRIFT_SD**2)) if share > 0 else learnt


def clamped(learnt: Learnt) -> Learnt:
    """Return the figures within what cords and hands can be.

    Compression beyond what a cord can have becomes slack.
    """
    for figure in learnt.unknowns:
        mean = learnt.belief(figure).mean
        # An observation of the edge, so that correlated figures follow: slack takes what is left
        # over.
        off = _nearest(figure, mean) - mean
        if off and not figure[1]:
            learnt = conditioned(learnt, {figure: 1.0}, off, EDGE_SD**2)
    return replace(learnt, means=tuple(map(_nearest, learnt.unknowns, learnt.means)))


def clamped_belief(figure: Figure, belief: Belief) -> Belief:
    """Return a belief limited to what cords and hands can be."""
    mean, sd = _nearest(figure, belief.mean), min(max(belief.sd, EDGE_SD), 1.0)
    return replace(belief, mean=mean, sd=sd)


def is_impossible(learnt: Learnt) -> bool:
    """Return whether figures are so far out of range that a measurement must be wrong."""
    return any(
        abs(mean - _nearest(figure, mean)) > WILD
        for figure, mean in zip(learnt.unknowns, learnt.means, strict=True)
    )


def _nearest(figure: Figure, mean: float) -> float:
    least, most = SLACKS if figure[1] else (THINNEST, THICKEST)
    return min(max(mean, least), most)


def _doubted_sd(learnt: Learnt, sight: Observation, off_mm: float) -> float:
    """Return the sd with which a doubted measurement is weighed.

    It moves its figures by no more than `SURPRISING` over its surprise, in their sd: the wilder it
    is, the less.
    """
    spread, wild = learnt.spread(sight.slopes), surprise(learnt, sight, off_mm)
    if not spread:
        return sight.sd_mm
    # Solves gain * off = SURPRISING * spread / wild for the sd, with gain = 1 / (1 +
    # (sd/spread)^2).
    least = spread * sqrt(max(0.0, abs(off_mm) * wild / (SURPRISING * spread) - 1))
    return max(sight.sd_mm, least)


SURPRISING: Final = 3.0
"""Predictive deviations beyond which a measure is questioned before it is believed."""
DRIFT_SD: Final = 0.12
"""How far slack may have moved over a whole piece: rough, no source."""
THICKEST: Final = 1.0
"""No cord is thicker in a knot than it is by its name."""
THINNEST: Final = 0.6
"""No cord gives more than this: below all that was read (0.7 to 0.9), rough, no source."""
SLACKS: Final = (-0.3, 2.0)
"""No hand ties firmer or looser than so: rough, no source."""
EDGE_SD: Final = 1e-3
WILD: Final = 0.05
"""Beyond what cords and hands can be by more than this, a measure was no measure: rough."""

OLDER_SD: Final = 1.25
"""By how much a belief is less sure for the next piece: hands and cords differ a little: rough."""


def for_next_piece(
    learnt: Mapping[Figure, Belief], prior: Mapping[Figure, Belief]
) -> dict[Figure, Belief]:
    """Return the prior for the next piece: what was learnt, a little less sure, else the old prior.

    Args:
        learnt: What this piece has shown.
        prior: The prior of figures that it says nothing about.
    """
    beliefs = {}
    for figure, first in prior.items():
        known = learnt.get(figure)
        sure = known is not None and known.sd < first.sd
        beliefs[figure] = (
            replace(known, sd=min(first.sd, known.sd * OLDER_SD)) if known and sure else first
        )
    return beliefs
