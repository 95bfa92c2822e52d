"""One knot in one standing: how it is built, read off when it rests, and what a formula says."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
import rows
from tightener import FULL, QUICK, Stage, Tightened, tighten
from tubes import Arrangement

Cord = Callable[[Tightened], float]
Formula = tuple[float, tuple[float, ...]]


@dataclass(frozen=True)
class Case:
    """One knot in one standing.

    `cord` reads the cord per knotter and tie off the arrangement at rest, `ties` is how many ties
    lie in a pitch. `formula`: what the catalogue (or print) says, cord and pitches in d.
    """

    knot: str
    standing: str
    build: Callable[[], Arrangement]
    cord: Cord
    formula: Callable[[], Formula]
    ties: float = 1
    full: tuple[Stage, ...] = FULL


@dataclass(frozen=True)
class Figure:
    """What came out, lengths in d: cord per knotter and tie, the pitches of what repeats.

    In rows the first pitch lies along the holder, the second is from row to row.
    """

    knot: str
    standing: str
    cord: float
    pitches: tuple[float, ...]
    overlap: float
    settled: bool


def run(case: Case, *, quick: bool = False) -> Figure:
    """Tighten a case."""
    done = tighten(case.build(), QUICK if quick else case.full)
    pitches = tuple(pitch / case.ties for pitch in done.pitches)
    return Figure(case.knot, case.standing, case.cord(done), pitches, done.overlap, done.settled)


def per_tie(ties: float, strands: int = 1) -> Cord:
    """Read the mean length of the first strands over the ties in a cell."""
    return lambda done: float(np.mean(done.lengths[:strands])) / ties


def total(done: Tightened) -> float:
    """Read the length of all strands: for closed links."""
    return sum(done.lengths)


def excess(chosen: slice = slice(None), more: float = 0.0) -> Cord:
    """Read the mean length over the distance between the planes of the ends, plus a constant."""

    def read(done: Tightened) -> float:
        strands = done.arrangement.strands[chosen]
        spans = [abs(s.points[-1, s.pulled] - s.points[0, s.pulled]) for s in strands]
        return float(np.mean(done.lengths[chosen]) - np.mean(spans)) + more

    return read


def drops(bar: float) -> Cord:
    """Read a mounted piece's length over its two drops from the bar's middle."""
    return lambda done: done.lengths[0] - 2 * rows.drop_level(bar)
