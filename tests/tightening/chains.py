"""Knots of one strand round straight rigid fillers, and two strands that hitch round each other.

Fillers run along the third axis. The knotter alone is pulled; the pitch is as short as its pull
makes it.
"""

from math import sqrt

import numpy as np
from curves import around, repeating
from tubes import Arrangement, Bar, Strand

BUNDLES = {
    1: ((0.0, 0.0),),
    2: ((-0.5, 0.0), (0.5, 0.0)),
    3: ((-0.5, -0.5 / sqrt(3)), (0.5, -0.5 / sqrt(3)), (0.0, 1 / sqrt(3))),
    4: ((-0.5, -0.5), (0.5, -0.5), (-0.5, 0.5), (0.5, 0.5)),
    5: ((-1.0, 0.0), (0.0, 0.0), (1.0, 0.0), (-0.5, sqrt(3) / 2), (0.5, sqrt(3) / 2)),
    7: ((0.0, 0.0), *((np.cos(k * np.pi / 3), np.sin(k * np.pi / 3)) for k in range(6))),
    8: (
        (0.0, 0.0),
        *((np.cos(k * np.pi / 3), np.sin(k * np.pi / 3)) for k in range(6)),
        (1.5, sqrt(3) / 2),
    ),
}
"""Centres of the densest small bundles."""
LOOSE = 4.5


def rods(count: int) -> tuple[Bar, ...]:
    """Return a bundle of rigid fillers along the third axis."""
    return tuple(Bar(2, (x, y, 0.0)) for x, y in BUNDLES[count])


def _hitch(core: float, start: float) -> list[tuple[float, float, float]]:
    """One half hitch: down outside, once round, under its own lead, out over its beginning."""
    near, far = core + 1.3, core + 2.7
    return [
        (0.00, far, start - 0.2),
        (0.06, far - 0.3, start - 1.5),
        (0.25, near, start - 1.8),
        (0.50, near, start - 1.2),
        (0.75, near, start - 0.7),
        (0.93, near, start - 0.3),
        (1.03, near, start - 0.3),
        (1.14, near + 0.4, start - 0.5),
        (1.17, far, start - 1.6),
        (1.10, far, start - 3.0),
        (1.02, far, start - 4.0),
    ]


def half_hitch_chain(fillers: int) -> Arrangement:
    """Half hitches all the same way, one to a cell."""
    core = max(float(np.hypot(x, y)) for x, y in BUNDLES[fillers])
    way = around(_hitch(core, 0.0))
    points = repeating(way, (0, 0, -LOOSE))
    strand = Strand(points, onward=(-1,))
    return Arrangement((strand,), rods(fillers), (LOOSE,), (2,), (0.0,))


def larks_head_chain(fillers: int) -> Arrangement:
    """A half hitch and its mirror image, two to a cell."""
    core = max(float(np.hypot(x, y)) for x, y in BUNDLES[fillers])
    back = [(-turn, r, z) for turn, r, z in _hitch(core, -LOOSE)]
    way = around(_hitch(core, 0.0)) + around(back)
    points = repeating(way, (0, 0, -2 * LOOSE))
    strand = Strand(points, onward=(-1,))
    return Arrangement((strand,), rods(fillers), (2 * LOOSE,), (2,), (0.0,))


def hitches_in_turn() -> Arrangement:
    """Two strands: the left one hitches round the right one, then the right round the left.

    Both are pulled alike; nothing is rigid.
    """
    gap, leap = 1.6, LOOSE + 1.0
    left = _beside(around(_hitch(0.0, 0.0)), gap, 1)
    right = _beside(around(_hitch(0.0, -leap)), gap, -1)
    one = repeating([*left, *_straight(-gap, -leap, LOOSE)], (0, 0, -2 * leap))
    two = repeating([*_straight(gap, 0.0, LOOSE), *right], (0, 0, -2 * leap))
    strands = (Strand(one, onward=(-1,)), Strand(two, onward=(-1,)))
    return Arrangement(strands, (), (2 * leap,), (2,), (0.0,))


def _beside(way: list[list[float]], gap: float, side: int) -> list[list[float]]:
    """Put a hitch round a line to the right of the middle, or mirrored to the left of it."""
    return [[side * (x + gap), y, z] for x, y, z in way]


def _straight(x: float, top: float, length: float) -> list[list[float]]:
    return [[x, 0.0, z] for z in np.linspace(top - 0.3, top - length + 0.3, 6)]
