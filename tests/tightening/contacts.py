"""Which points may touch, and how near they may come: the chord rule.

Two points of one strand at arc distance s keep |x - y| >= d sin(min(s / d, pi / 2)), points of
different strands d. A circle of radius d / 2 just meets the rule, so that it limits curvature too.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import product

import numpy as np
import scipy
from numpy.typing import NDArray
from tubes import Arrangement, Links, Points, Whole, lengths, rotated, shifts_of

_NEVER = 10**9


@dataclass(frozen=True)
class Contacts:
    """Pairs of points with the least distance of each and a key that stays while points do."""

    links: Links
    least: Points
    keys: Whole


@dataclass(frozen=True)
class Rubs:
    """Points beside a rod: point, coordinates across the rod, centre per cell, least distance."""

    point: Whole
    across: Whole
    centre: Points
    cells: Points
    least: Points
    keys: Whole


def _images(arrangement: Arrangement, points: Points, reach: float) -> Iterator[tuple[int, ...]]:
    """Yield the cells whose images can come near, one of each opposite pair, without the cell."""
    ranges = []
    for pitch, axis in zip(arrangement.pitches, arrangement.along, strict=True):
        far = int(np.ceil((np.ptp(points[:, axis]) + reach) / pitch))
        ranges.append(range(-far, far + 1))
    zero = (0,) * len(ranges)
    yield from (cell for cell in product(*ranges) if cell > zero)


def _owners(arrangement: Arrangement) -> tuple[Whole, Whole]:
    """Return the strand of every point and its number within the strand."""
    sizes = [len(s.points) for s in arrangement.strands]
    owner = np.repeat(np.arange(len(sizes)), sizes)
    return owner, np.concatenate([np.arange(n) for n in sizes])


def _gaps(arrangement: Arrangement, first: Whole, second: Whole, cell: tuple[int, ...]) -> Whole:
    """Return the edges between two points along their strand, or a huge number."""
    owner, place = _owners(arrangement)
    gap = np.full(len(first), _NEVER)
    for number, strand in enumerate(arrangement.strands):
        n = len(strand.points)
        same = (owner[first] == number) & (owner[second] == number)
        ahead = place[second[same]] - place[first[same]]
        periods = _periods(strand.onward, cell)
        if strand.closed:
            gap[same] = np.minimum(abs(ahead), n - abs(ahead))
        elif periods is not None:
            gap[same] = abs(ahead + periods * n)
    return gap


def _periods(onward: tuple[int, ...], cell: tuple[int, ...]) -> int | None:
    """Return how often a strand goes onward to reach a cell, or None when it never does."""
    if not any(cell):
        return 0
    if not onward:
        return None
    lead = next(k for k, step in enumerate(onward) if step)
    times = cell[lead] // onward[lead]
    return times if tuple(times * step for step in onward) == cell else None


def find_contacts(arrangement: Arrangement, margin: float) -> Contacts:
    """Return every pair of points that is nearer than its least distance plus a margin."""
    points = np.concatenate([s.points for s in arrangement.strands])
    owner, _ = _owners(arrangement)
    spacing = lengths(arrangement) / [len(s.points) for s in arrangement.strands]
    shifts = shifts_of(arrangement, np.array(arrangement.pitches))
    tree = scipy.spatial.cKDTree(points)
    zero = (0,) * len(arrangement.pitches)
    found = []
    for cell in (zero, *_images(arrangement, points, 1 + margin)):
        turn = cell[0] * arrangement.turn if cell else 0.0
        image = rotated(points, np.full(len(points), turn)) + np.array(cell) @ shifts
        near = tree.sparse_distance_matrix(
            scipy.spatial.cKDTree(image), 1 + margin, output_type="ndarray"
        )
        first, second, apart = near["i"], near["j"], near["v"]
        gap = _gaps(arrangement, first, second, cell)
        least = np.sin(np.minimum(gap * spacing[owner[first]], np.pi / 2))
        keep = (gap > 1) & (apart < least + margin)
        if not any(cell):
            keep &= first < second
        cells = np.tile(np.array(cell, dtype=float), (int(keep.sum()), 1))
        links = Links(first[keep], second[keep], cells, np.full(len(cells), turn))
        found.append(Contacts(links, least[keep], _keys(links, cell, len(points))))
    return _joined(found)


def _keys(links: Links, cell: tuple[int, ...], count: int) -> Whole:
    """Return a number for each pair of points that stays the same from round to round."""
    code = 0
    for step in cell:
        code = code * 64 + step + 32
    return (code * count + links.first) * count + links.second


def _joined(found: list[Contacts]) -> Contacts:
    def join(parts: list[NDArray]) -> NDArray:
        return np.concatenate(parts)

    links = Links(
        join([f.links.first for f in found]),
        join([f.links.second for f in found]),
        join([f.links.cells for f in found]),
        join([f.links.turns for f in found]),
    )
    return Contacts(links, join([f.least for f in found]), join([f.keys for f in found]))


def find_rubs(arrangement: Arrangement, margin: float) -> Rubs:
    """Return every point nearer to a rod, or an image of it, than touching plus a margin."""
    points = np.concatenate([s.points for s in arrangement.strands])
    shifts = shifts_of(arrangement, np.array(arrangement.pitches))
    width = len(arrangement.pitches)
    parts: list[tuple[Whole, Points, Points, Points, Points, Whole]] = []
    for number, bar in enumerate(arrangement.bars):
        across = np.array([k for k in range(3) if k != bar.axis])
        moves = [range(-3, 4) if axis != bar.axis else range(1) for axis in arrangement.along]
        for code, cell in enumerate(product(*moves)):
            step = np.array(cell, dtype=float).reshape(width)
            centre = np.array(bar.centre) + step @ shifts
            apart = np.linalg.norm((points - centre)[:, across], axis=1)
            least = (1 + bar.diameter) / 2
            point = np.flatnonzero(apart < least + margin)
            k = len(point)
            keys = (number * 512 + code) * len(points) + point
            parts.append(
                (
                    point, np.tile(across, (k, 1)), np.tile(bar.centre, (k, 1)),
                    np.tile(step, (k, 1)), np.full(k, least), keys,
                )
            )  # fmt: skip
    if not parts:
        none = np.zeros(0, dtype=np.int64)
        empty = np.zeros((0, width))
        return Rubs(none, np.zeros((0, 2), int), np.zeros((0, 3)), empty, np.zeros(0), none)
    return Rubs(*(np.concatenate(column) for column in zip(*parts, strict=True)))
