"""Smooth loose curves through a few way-points, from which knots are tightened."""

from collections.abc import Sequence

import numpy as np
import scipy
from tubes import Points

DENSE = 24


def through(way: Sequence[Sequence[float]]) -> Points:
    """Return a smooth open curve through way-points of shape (k, 3), by root of distance."""
    points = np.asarray(way, dtype=float)
    knots = _parameter(points)
    return scipy.interpolate.CubicSpline(knots, points)(
        np.linspace(0, knots[-1], DENSE * len(points))
    )


def repeating(way: Sequence[Sequence[float]], shift: Sequence[float]) -> Points:
    """Return one period of a smooth curve whose way-points repeat after a shift."""
    points = np.asarray(way, dtype=float)
    step = np.asarray(shift, dtype=float)
    wide = np.concatenate((points[-3:] - step, points, points[:4] + step))
    knots = _parameter(wide)
    start, end = knots[3], knots[3 + len(points)]
    t = start + (end - start) * np.arange(DENSE * len(points)) / (DENSE * len(points))
    return scipy.interpolate.CubicSpline(knots, wide)(t)


def _parameter(points: Points) -> Points:
    steps = np.sqrt(np.linalg.norm(np.diff(points, axis=0), axis=1))
    return np.concatenate(([0.0], np.cumsum(steps)))


def around(way: Sequence[Sequence[float]]) -> list[list[float]]:
    """Turn way-points (turns, radius, height) round the third axis into coordinates.

    The angle is counted from the left, the side of the negative first coordinate, by the front,
    the positive second one. Long arcs get points between.
    """
    points = np.asarray(way, dtype=float)
    steps = np.concatenate(([0.0], np.cumsum(np.maximum(abs(np.diff(points[:, 0])), 0.05))))
    t = np.unique(np.concatenate((steps, np.arange(0, steps[-1], 0.08))))
    turn, radius, height = scipy.interpolate.PchipInterpolator(steps, points)(t).T
    angle = np.pi - 2 * np.pi * turn
    return np.column_stack((radius * np.cos(angle), radius * np.sin(angle), height)).tolist()


def parallel(points: Points, offsets: Sequence[tuple[float, float]]) -> list[Points]:
    """Return curves beside a curve, at offsets across it in a frame that does not twist."""
    tangents = np.gradient(points, axis=0)
    tangents /= np.linalg.norm(tangents, axis=1)[:, None]
    normal = np.zeros_like(points)
    start = np.eye(3)[np.argmin(abs(tangents[0]))]
    for k, tangent in enumerate(tangents):
        before = start if k == 0 else normal[k - 1]
        flat = before - (before @ tangent) * tangent
        normal[k] = flat / np.linalg.norm(flat)
    side = np.cross(tangents, normal)
    return [points + a * normal + b * side for a, b in offsets]
