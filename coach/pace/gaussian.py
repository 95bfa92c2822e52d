"""Jointly normal unknowns, and their update by one observation.

An observation is a weighted sum of the unknowns, off by a normal error. Taken in one after
another, observations lead to the least squares over prior and observations together (Kalman,
*J. Basic Eng.* 82 (1960), eqs 23-25; from memory).
"""

from collections.abc import Hashable, Mapping
from dataclasses import dataclass, replace
from math import sqrt
from typing import Generic, TypeVar

Unknown = TypeVar("Unknown", bound=Hashable)


@dataclass(frozen=True, slots=True)
class Belief:
    """The mean and standard deviation of one unknown."""

    mean: float
    sd: float


@dataclass(frozen=True, slots=True)
class Joint(Generic[Unknown]):
    """Jointly normal unknowns: their means, and a covariance matrix by rows."""

    unknowns: tuple[Unknown, ...] = ()
    means: tuple[float, ...] = ()
    covariance: tuple[tuple[float, ...], ...] = ()

    def belief(self, unknown: Unknown) -> Belief:
        """Return mean and sd of one unknown. Raises ValueError if it is not known here."""
        at = self.unknowns.index(unknown)
        return Belief(self.means[at], sqrt(max(0.0, self.covariance[at][at])))

    @property
    def beliefs(self) -> dict[Unknown, Belief]:
        """The mean and sd of every unknown by itself."""
        return {unknown: self.belief(unknown) for unknown in self.unknowns}

    def together(self, one: Unknown, other: Unknown) -> float:
        """Return the correlation of two unknowns. Raises ValueError if one is not known here."""
        i, j = sorted((self.unknowns.index(one), self.unknowns.index(other)))
        whole = sqrt(self.covariance[i][i] * self.covariance[j][j])
        return self.covariance[i][j] / whole if whole else 0.0

    def variance(self, slopes: Mapping[Unknown, float]) -> float:
        """Return the variance of the unknowns' sum, each weighted by its slope."""
        along = [(i, s) for i, u in enumerate(self.unknowns) if (s := slopes.get(u, 0.0))]
        return max(0.0, sum(s * t * self.covariance[i][j] for i, s in along for j, t in along))

    def spread(self, slopes: Mapping[Unknown, float]) -> float:
        """Return the standard deviation of that weighted sum."""
        return sqrt(self.variance(slopes))


def independent(beliefs: Mapping[Unknown, Belief]) -> Joint[Unknown]:
    """Return a joint of uncorrelated unknowns."""
    return extended(Joint(), beliefs)


def extended(joint: Joint[Unknown], beliefs: Mapping[Unknown, Belief]) -> Joint[Unknown]:
    """Return a joint with further unknowns, uncorrelated with those that are there."""
    before, more = len(joint.unknowns), len(beliefs)
    rows = [row + (0.0,) * more for row in joint.covariance]
    for at, belief in enumerate(beliefs.values(), start=before):
        rows.append(tuple(belief.sd**2 if i == at else 0.0 for i in range(before + more)))
    means = joint.means + tuple(belief.mean for belief in beliefs.values())
    return Joint(joint.unknowns + tuple(beliefs), means, tuple(rows))


def conditioned(
    joint: Joint[Unknown], slopes: Mapping[Unknown, float], off: float, variance: float
) -> Joint[Unknown]:
    """Return the joint after one observation.

    Args:
        joint: The joint before it.
        slopes: The weight of each unknown in the observation.
        off: Observed minus expected.
        variance: That of the observation's error, above zero.
    """
    along = [(i, s) for i, u in enumerate(joint.unknowns) if (s := slopes.get(u, 0.0))]
    shared = [sum([row[j] * s for j, s in along]) for row in joint.covariance]
    whole = variance + sum([shared[i] * s for i, s in along])
    gain = [s / whole for s in shared]
    means = tuple([mean + g * off for mean, g in zip(joint.means, gain, strict=True)])
    rows = [
        tuple([c - g * s for c, s in zip(row, shared, strict=True)])
        for row, g in zip(joint.covariance, gain, strict=True)
    ]
    return Joint(joint.unknowns, means, tuple(rows))


def widened(joint: Joint[Unknown], variances: Mapping[Unknown, float]) -> Joint[Unknown]:
    """Return a joint with variance added to some unknowns, each independently."""
    rows = list(joint.covariance)
    for i, unknown in enumerate(joint.unknowns):
        if unknown in variances:
            row = rows[i]
            rows[i] = (*row[:i], row[i] + variances[unknown], *row[i + 1 :])
    return replace(joint, covariance=tuple(rows))


def redrawn(joint: Joint[Unknown], unknown: Unknown, belief: Belief) -> Joint[Unknown]:
    """Return a joint in which one unknown is replaced by an independent new draw.

    Args:
        joint: Means and covariance of all unknowns.
        unknown: The one that is replaced.
        belief: Its new mean and deviation.
    """
    at = joint.unknowns.index(unknown)
    means = tuple(belief.mean if i == at else m for i, m in enumerate(joint.means))
    rows = tuple(
        tuple((belief.sd**2 if i == j else 0.0) if at in (i, j) else c for j, c in enumerate(row))
        for i, row in enumerate(joint.covariance)
    )
    return Joint(joint.unknowns, means, rows)
