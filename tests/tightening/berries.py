"""The berry knot: square knots rolled up into a ring by their own fillers."""

import numpy as np
from curves import through
from sennits import LOOSE, flat, square_ways
from tubes import Arrangement, Strand

AROUND = 1.75 * np.pi
FAR = 12.0
Way = list[tuple[float, float, float]]


def berry(squares: int) -> Arrangement:
    """That many square knots round two fillers, rolled up to the front, without the lock.

    The fillers go over the roll, back between their own leads and down behind it; all four ends
    are pulled down, the four leads up.
    """
    length = 2 * LOOSE * squares
    radius = length / AROUND
    over, under = square_ways(flat(2), squares)
    strands = []
    for way in (over, under):
        side = np.sign(way[0][0])
        strands.append(_knotter([_rolled(p, radius) for p in way], side, radius))
    strands += [_filler(x, length, radius) for x in (-0.55, 0.55)]
    return Arrangement(tuple(strands))


def _rolled(point: tuple[float, float, float], radius: float) -> tuple[float, float, float]:
    """Bend a point of a straight sennit round a level axis before it, its front inward."""
    x, y, along = point
    angle, r = along / radius, radius - y
    return x, radius - r * np.cos(angle), -r * np.sin(angle)


def _knotter(ring: Way, side: float, radius: float) -> Strand:
    lead = [(side * 3.6, 0.0, radius + FAR), (side * 3.6, 0.0, 3.0)]
    tail = [
        (side * 5.0, 1.5, radius * 0.4), (side * 5.2, 0.6, -1.5), (side * 3.5, 0.0, -radius - 3.0),
        (side * 2.0, 0.0, -radius - FAR),
    ]  # fmt: skip
    return Strand(through([*lead, *ring, *tail]))


def _filler(x: float, length: float, radius: float) -> Strand:
    ring = [_rolled((x, 0.0, z), radius) for z in np.linspace(0.5, length - 0.5, 24)]
    lead = [(1.5 * x, 0.0, radius + FAR), (4.4 * x, 0.0, radius + 1.0), (3.5 * x, 0.0, radius - 1)]
    tail = [
        (1.1 * x, 1.2, radius * 0.95), (1.1 * x, -1.0, radius), (1.1 * x, -3.6, radius * 0.6),
        (1.1 * x, -3.8, -radius * 0.6), (1.1 * x, -2.0, -radius - 4), (1.1 * x, 0.0, -radius - FAR),
    ]  # fmt: skip
    return Strand(through([*lead, *ring, *tail]))
