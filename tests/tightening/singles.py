"""Knots that are tied once: ends pulled apart to far planes, the excess over straight counts."""

from math import sqrt

import numpy as np
from chains import BUNDLES, rods
from curves import around, parallel, through
from tubes import Arrangement, Points, Strand

ROOM = 4.0


def _overhand_way(turns: int) -> Points:
    """Return a strand twisted with itself, closed on one side: an overhand knot of some turns."""
    half_twists = 2 * turns + 1
    w, thin = 0.9 * half_twists, 0.85
    t = np.linspace(0, 1, 4 * half_twists + 1)

    def twist(start: float) -> list[list[float]]:
        angle = start + np.pi * half_twists * t
        x = w * (2 * t - 1)
        return np.column_stack((x, thin * np.cos(angle), thin * np.sin(angle))).tolist()

    back = [[w + 1.3, 1.6, 0], [w, 3.2, 0], [0, 3.8, 0], [-w, 3.2, 0], [-w - 1.3, 1.6, 0]]
    lead = [[-w - ROOM, -0.9, 0], [-w - 1.5, -0.9, 0]]
    tail = [[w + 1.5, -0.9, 0], [w + ROOM, -0.9, 0]]
    return through([*lead, *twist(np.pi), *back, *twist(0), *tail])


def overhand(strands: int, turns: int = 1) -> Arrangement:
    """A bundle knotted on itself; all strands are pulled alike."""
    scale = 1.25 * sqrt(strands)
    middle = _overhand_way(turns) * (scale if strands > 1 else 1.0)
    wide = [(1.05 * x, 1.05 * y) for x, y in BUNDLES[strands]]
    return Arrangement(tuple(Strand(p, pulled=0) for p in parallel(middle, wide)))


def reach(arrangement: Arrangement) -> float:
    """Return the mean distance between the planes of the ends."""
    spans = [abs(s.points[-1, s.pulled] - s.points[0, s.pulled]) for s in arrangement.strands]
    return float(np.mean(spans))


def barrel(turns: float, fillers: int) -> Arrangement:
    """A strand down beside rigid fillers, wound upward round all, its end down under the turns.

    After whole turns the end lies down beside its lead.
    """
    turns -= 0.12 * float(turns).is_integer()
    core = max(float(np.hypot(x, y)) for x, y in BUNDLES[fillers])
    near, far = core + 0.95, core + 2.4
    low, high = -2.0, -2.0 + 1.25 * turns
    edge = high + ROOM
    way = around(
        [
            (0.25, near, edge), (0.25, near, high), (0.25, near, low - 0.4),
            (0.32, near + 0.6, low - 1.4), (0.45, far, low - 0.6), (0.6, far, low),
            (turns - 0.1, far, high), (0.1 + turns, far, high + 0.8),
            (0.2 + turns, near + 0.6, high + 1.5), (0.25 + turns, near, high + 0.5),
            (0.25 + turns, near, low), (0.25 + turns, near, -edge),
        ]
    )  # fmt: skip
    return Arrangement((Strand(through(way)),), rods(fillers))


def gathering(turns: int, fillers: int) -> Arrangement:
    """A wrap round rigid fillers, its tail held under the turns by the loop of its short end."""
    core = max(float(np.hypot(x, y)) for x, y in BUNDLES[fillers])
    inner, middle, outer, far = core + 1.1, core + 2.2, core + 3.3, core + 4.6
    half = 0.65 * turns + 1.6
    edge = half + ROOM + 1
    side = 0.75 / (2 * np.pi * middle)
    loop = [
        (-side, middle, edge), (-side, middle, 1.5), (-side, middle, -0.4), (0.0, middle, -1.0),
        (side, middle, -0.4), (side, middle, 1.5), (side, middle, half + 0.4),
    ]  # fmt: skip
    coil = [
        (side + 0.08, outer, half + 1.3), (side + 0.25, far, half),
        (turns - 0.15, far, -half), (turns - 0.05, far - 0.6, -half - 1.0),
    ]  # fmt: skip
    tail = [
        (turns, outer, -half), (turns, outer, -0.2), (turns, middle, 0.7), (turns, inner, -0.2),
        (turns, inner, -half), (turns, inner, -edge),
    ]  # fmt: skip
    return Arrangement((Strand(through(around([*loop, *coil, *tail]))),), rods(fillers))


def josephine(strands: int, slab: float) -> Arrangement:
    """Two halves interlaced in the eight crossings of a carrick bend, over and under in turn.

    The knot lies flat: no centre line leaves a slab of that half thickness.
    """
    up = 0.5
    a = [
        (-4.6, 0, 8.0), (-4.2, 0, 5.0), (-2.5, up, 1.5), (-1.2, -up, 0), (0, up, -1.0),
        (1.4, 0, -1.9), (2.5, -up, -1.5), (3.3, 0, 0), (2.5, up, 1.5), (1.4, 0, 1.9),
        (0, -up, 1.0), (-1.2, up, 0), (-2.5, -up, -1.5), (-4.2, 0, -5.0), (-4.6, 0, -8.0),
    ]  # fmt: skip
    b = [(-x, -y, z) for x, y, z in a]
    widen = 1.0 if strands == 1 else 0.95 * strands
    found = []
    for way in (a, b):
        flat = through([(1.5 * widen * x, y, 1.5 * widen * z) for x, y, z in way])
        found += [Strand(p, slab=slab) for p in _beside(flat, strands)]
    return Arrangement(tuple(found))


def _beside(points: Points, count: int) -> list[Points]:
    """Return curves side by side on the board."""
    run = np.gradient(points, axis=0)
    across = np.column_stack((-run[:, 2], np.zeros(len(run)), run[:, 0]))
    across /= np.linalg.norm(across, axis=1)[:, None]
    return [points + 1.15 * (k - (count - 1) / 2) * across for k in range(count)]


def plait(pitch: float, *, held: bool) -> Arrangement:
    """Three strands, each the curve of the one before shifted by two crossings.

    The cell is two crossings long, and a strand is back in place after three cells.
    """
    t = np.linspace(0, 1, 200, endpoint=False)
    points = np.column_stack(
        (1.9 * np.sin(2 * np.pi * t), 0.9 * np.sin(4 * np.pi * t), 6 * pitch * t)
    )
    return Arrangement((Strand(points, onward=(3,)),), (), (2 * pitch,), (2,), (0.0,), held=held)
