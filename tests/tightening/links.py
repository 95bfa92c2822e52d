"""The two links whose tightest length is printed, to check the tightening itself."""

import numpy as np
from tubes import Arrangement, Strand


def hopf() -> Arrangement:
    """Two rings through each other."""
    t = np.linspace(0, 2 * np.pi, 60, endpoint=False)
    one = np.column_stack((1.6 * np.cos(t), 1.4 * np.sin(t), 0.1 * np.sin(2 * t)))
    two = np.column_stack((1.5 + 1.4 * np.cos(t), 0.1 * np.cos(t), 1.6 * np.sin(t)))
    return Arrangement((Strand(one, closed=True), Strand(two, closed=True)))


def trefoil() -> Arrangement:
    """The trefoil as a curve on a torus."""
    t = np.linspace(0, 2 * np.pi, 120, endpoint=False)
    out = 2 + 0.9 * np.cos(3 * t)
    points = np.column_stack((out * np.cos(2 * t), out * np.sin(2 * t), 0.9 * np.sin(3 * t)))
    return Arrangement((Strand(points, closed=True),))
