"""An arrangement of tubes: what is shortened when a knot is tightened.

Lengths are in contact diameters d. A strand is a polygon of points; the tube round it has
diameter 1. A repeating arrangement holds the points of one cell; its images are shifted by whole
pitches along fixed directions, and turned about the third axis where the work twists.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

import numpy as np
from numpy.typing import NDArray

Points = NDArray[np.float64]
Whole = NDArray[np.int64]


@dataclass(frozen=True)
class Strand:
    """One centre line, shape (n, 3).

    `closed`: the last point goes on to the first. `onward`: it goes on to the image of the first
    point in that cell, one whole number per pitch. Neither: an open strand, whose two end points
    keep their coordinate along `pulled` (ends pulled apart to far planes). `slab` bounds the second
    coordinate, either way.
    """

    points: Points
    closed: bool = False
    onward: tuple[int, ...] = ()
    pulled: int = 2
    tension: float = 1.0
    slab: float = np.inf

    @property
    def is_open(self) -> bool:
        """Whether the strand has two ends."""
        return not self.closed and not self.onward


@dataclass(frozen=True)
class Bar:
    """A rigid straight rod along coordinate `axis` through `centre`, of a diameter."""

    axis: int
    centre: tuple[float, float, float]
    diameter: float = 1.0


@dataclass(frozen=True)
class Arrangement:
    """Strands and rods, with the pitches of the cell, which are shortened too.

    `along`: the coordinate of each pitch; `pull` the tension that shortens each pitch; `held`
    keeps the pitches as they are; `turn` in radians by which the image of the first pitch is
    turned about the third axis.
    """

    strands: tuple[Strand, ...]
    bars: tuple[Bar, ...] = ()
    pitches: tuple[float, ...] = ()
    along: tuple[int, ...] = ()
    pull: tuple[float, ...] = ()
    held: bool = False
    turn: float = 0.0

    def with_state(self, points: Sequence[Points], pitches: Sequence[float]) -> "Arrangement":
        """Return the same arrangement with other points and pitches."""
        moved = (replace(s, points=p) for s, p in zip(self.strands, points, strict=True))
        return replace(self, strands=tuple(moved), pitches=tuple(float(p) for p in pitches))


@dataclass(frozen=True)
class Links:
    """Pairs of points: the first in the cell, the second in the image `cells`, shape (k, pitches).

    `turns` is the angle of the image.
    """

    first: Whole
    second: Whole
    cells: NDArray[np.float64]
    turns: Points = field(default_factory=lambda: np.zeros(0))

    def vectors(self, points: Points, shifts: Points) -> Points:
        """Return the vectors from the first to the second points; `shifts` is (pitches, 3)."""
        far = points[self.second]
        if self.turns.any():
            far = rotated(far, self.turns)
        return far - points[self.first] + self.cells @ shifts

    def spread(self, force: Points, count: int) -> Points:
        """Return the gradient per point of an energy whose gradient per vector is `force`."""
        back = rotated(force, -self.turns) if self.turns.any() else force
        both = np.concatenate((self.second, self.first))
        parts = (np.concatenate((back[:, k], -force[:, k])) for k in range(3))
        return np.column_stack([np.bincount(both, part, count) for part in parts])

    def subset(self, chosen: NDArray[np.bool_]) -> "Links":
        """Return the links for which `chosen` is true."""
        return Links(
            self.first[chosen], self.second[chosen], self.cells[chosen], self.turns[chosen]
        )


def rotated(vectors: Points, angles: Points) -> Points:
    """Turn vectors about the third axis."""
    cos, sin = np.cos(angles), np.sin(angles)
    x, y = vectors[:, 0], vectors[:, 1]
    return np.column_stack((cos * x - sin * y, sin * x + cos * y, vectors[:, 2]))


def shifts_of(arrangement: Arrangement, pitches: Points) -> Points:
    """Return the shift of each pitch as vectors, shape (pitches, 3)."""
    shifts = np.zeros((len(pitches), 3))
    shifts[range(len(pitches)), list(arrangement.along)] = pitches
    return shifts


def edges(arrangement: Arrangement) -> tuple[Links, Whole]:
    """Return the edges of all strands, and the strand to which each belongs."""
    first, second, cells, owner = [], [], [], []
    start, width = 0, len(arrangement.pitches)
    for number, strand in enumerate(arrangement.strands):
        n = len(strand.points)
        here = np.arange(n - 1 if strand.is_open else n)
        first.append(start + here)
        second.append(start + (here + 1) % n)
        cell = np.zeros((len(here), width))
        if strand.onward:
            cell[-1] = strand.onward
        cells.append(cell)
        owner.append(np.full(len(here), number))
        start += n
    cell = np.concatenate(cells)
    turns = cell[:, 0] * arrangement.turn if width else np.zeros(len(cell))
    return Links(np.concatenate(first), np.concatenate(second), cell, turns), np.concatenate(owner)


def lengths(arrangement: Arrangement) -> Points:
    """Return the polygon length of each strand's share of the cell."""
    links, owner = edges(arrangement)
    points = np.concatenate([s.points for s in arrangement.strands])
    vectors = links.vectors(points, shifts_of(arrangement, np.array(arrangement.pitches)))
    return np.bincount(owner, np.linalg.norm(vectors, axis=1))
