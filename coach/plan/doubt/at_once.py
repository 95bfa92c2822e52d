"""Simultaneous ranges: how wide each must be so that all of them hold four times in five."""

from collections.abc import Sequence
from math import sqrt
from operator import mul
from typing import Final

from coach.plan.doubt.even_points import MOST, normal_points
from coach.plan.doubt.matrices import cholesky

Z80: Final = 1.2815515655446004
"""Half the width of the middle 80 % of a normal, in standard deviations."""
_SHARE: Final = 0.8
_PAIRS: Final = 512


def deviations_at_once(covariance: Sequence[Sequence[float]]) -> float:
    """Return the half-width, in deviations, at which several normals all lie within 80 %.

    Exactly known ones are left out, and so are those after the first eight: values that move
    together
    hardly need more than one alone.

    Args:
        covariance: Their covariance matrix.
    """
    at = [i for i, row in enumerate(covariance) if row[i] > 0][:MOST]
    if len(at) <= 1:
        return Z80
    sds = [sqrt(covariance[i][i]) for i in at]
    lower = cholesky(
        [[covariance[i][j] / (a * b) for j, b in zip(at, sds, strict=True)]
         for i, a in zip(at, sds, strict=True)]
    )  # fmt: skip
    farthest: list[float] = sorted(
        max(abs(sum(map(mul, row, point))) for row in lower)
        for point in normal_points(len(at), _PAIRS)[::2]  # a mirror image is as far
    )
    return farthest[int(_SHARE * len(farthest))]
