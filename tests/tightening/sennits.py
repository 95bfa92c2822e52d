"""Half knots and square knots of two knotters round fillers, in sennits.

Fillers run along the third axis, rigid and straight unless said; the two knotters are pulled.
"""

import numpy as np
from curves import repeating
from tubes import Arrangement, Bar, Strand

Way = list[tuple[float, float, float]]
LOOSE = 4.5


def flat(count: int) -> tuple[tuple[float, float], ...]:
    """Return fillers side by side."""
    return tuple((k - (count - 1) / 2, 0.0) for k in range(count))


def _over(centres: tuple[tuple[float, float], ...], start: float) -> Way:
    """Return the knotter that goes over the fillers from the left, under the other one."""
    side = max(abs(x) for x, _ in centres)
    front = max(abs(y) for _, y in centres) + 1.4
    way = [
        (-side - 2.8, 0.0, 0.02), (-side - 2.5, -0.8, 0.42), (-side - 1.4, 0.0, 0.66),
        (-side - 0.4, front, 0.62), (0.0, front + 0.1, 0.5), (side + 0.4, front, 0.38),
        (side + 1.4, 0.0, 0.34), (side + 2.5, -0.8, 0.58), (side + 2.8, 0.0, 0.94),
    ]  # fmt: skip
    return [(x, y, start + LOOSE * z) for x, y, z in way]


def _under(centres: tuple[tuple[float, float], ...], start: float) -> Way:
    """Return the other knotter: the first one turned half round the fillers."""
    return [(-x, -y, z) for x, y, z in _over(centres, start)]


def _mirrored(way: Way) -> Way:
    return [(-x, y, z) for x, y, z in way]


def square_knots(centres: tuple[tuple[float, float], ...], *, rigid: bool = True) -> Arrangement:
    """Square knots, one to a cell.

    Flexible fillers have the knotters' tension and nothing holds the work out, so that they
    shorten its pitch too.
    """
    return _sennit(square_ways(centres, 1), centres, 2 * LOOSE, rigid=rigid)


def square_ways(centres: tuple[tuple[float, float], ...], squares: int) -> tuple[Way, Way]:
    """Return the way-points of both knotters through square knots, the upper one first."""
    over, under = [], []
    for start in np.arange(squares) * 2 * LOOSE:
        over += [*_over(centres, start), *_mirrored(_over(centres, start + LOOSE))]
        under += [*_under(centres, start), *_mirrored(_under(centres, start + LOOSE))]
    return over, under


def half_knots(centres: tuple[tuple[float, float], ...], degrees: float) -> Arrangement:
    """Half knots all the same way, two to a cell, each turned on by that angle.

    Fillers are flexible unless nothing turns, and shorten the pitch too. How they are held decides
    much: held taut from outside, at 40 degrees, coarse runs gave 8.0 d and 1.92 d a knot instead
    of 8.3 d and 1.7 d.
    """
    over = [*_over(centres, 0), *_under(centres, LOOSE)]
    under = [*_under(centres, 0), *_over(centres, LOOSE)]
    turn = 2 * np.radians(degrees)
    return _sennit((over, under), centres, 2 * LOOSE, rigid=degrees == 0, turn=turn)


def _sennit(
    ways: tuple[Way, Way],
    centres: tuple[tuple[float, float], ...],
    pitch: float,
    *,
    rigid: bool,
    turn: float = 0.0,
) -> Arrangement:
    strands = [
        Strand(_twisted(repeating(w, (0, 0, pitch)), turn, pitch), onward=(1,)) for w in ways
    ]
    bars = tuple(Bar(2, (x, y, 0.0)) for x, y in centres)
    if rigid:
        return Arrangement(tuple(strands), bars, (pitch,), (2,), (0.0,))
    for x, y in centres:
        z = np.arange(0, pitch, 0.1)
        line = np.column_stack((np.full_like(z, x), np.full_like(z, y), z))
        strands.append(Strand(_twisted(line, turn, pitch), onward=(1,)))
    return Arrangement(tuple(strands), (), (pitch,), (2,), (0.0,), turn=turn)


def _twisted(points: np.ndarray, turn: float, pitch: float) -> np.ndarray:
    angle = turn * points[:, 2] / pitch
    cos, sin = np.cos(angle), np.sin(angle)
    x, y = points[:, 0], points[:, 1]
    return np.column_stack((cos * x - sin * y, sin * x + cos * y, points[:, 2]))
