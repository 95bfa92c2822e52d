"""Shortening an arrangement of tubes until it stops.

An augmented Lagrangian: the length of all strands is made as small as it goes by L-BFGS, with a
multiplier and a spring for every pair of points that may not come nearer. Between rounds the
pairs are found anew, the multipliers taken over, and no coordinate may move further in a round
than the pairs were looked for, so that strands never pass through each other.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import scipy
from contacts import Contacts, Rubs, find_contacts, find_rubs
from tubes import Arrangement, Links, Points, Strand, Whole, edges, lengths, shifts_of

STIFFNESS = 60.0
REACH = 0.15
MARGIN = 0.45
ROUND = 60


@dataclass(frozen=True)
class Stage:
    """One resolution: spacing of the points in d, the most rounds, and the change at which to stop.

    `settled` is the relative change of the length in ten rounds.
    """

    spacing: float
    rounds: int
    settled: float = 1e-4


QUICK = (Stage(0.35, 60, 1e-3), Stage(0.2, 40, 1e-3))
COARSE = (Stage(0.35, 120), Stage(0.2, 120), Stage(0.14, 80, 3e-4))
THICK = (
    Stage(0.45, 150, 3e-4),
    Stage(0.35, 100, 3e-4),
    Stage(0.25, 60, 5e-4),
    Stage(0.2, 60, 5e-4),
)
"""For thick bundles, which have far to go."""
FULL = (Stage(0.35, 120), Stage(0.2, 80), Stage(0.1, 100, 3e-4))


@dataclass(frozen=True)
class Tightened:
    """An arrangement at rest: its strands' lengths in d, and the worst overlap in d."""

    arrangement: Arrangement
    lengths: tuple[float, ...]
    overlap: float
    rounds: int
    settled: bool

    @property
    def pitches(self) -> tuple[float, ...]:
        """The pitches of the cell in d."""
        return self.arrangement.pitches


class Energy:
    """Length of the arrangement plus springs, as a function of all coordinates and pitches."""

    def __init__(self, arrangement: Arrangement) -> None:
        self._shape = arrangement
        self._links, self._owner = edges(arrangement)
        self.count = sum(len(s.points) for s in arrangement.strands)
        self._sizes = np.bincount(self._owner)
        self._tension = np.array([s.tension for s in arrangement.strands])
        self._pull = np.array(arrangement.pull)
        self.contacts: Contacts
        self.rubs: Rubs
        self.push = np.zeros(0)
        self.rub = np.zeros(0)

    def find(self, arrangement: Arrangement) -> None:
        """Find the pairs anew and take their multipliers over."""
        contacts, rubs = find_contacts(arrangement, MARGIN), find_rubs(arrangement, MARGIN)
        if len(self.push) or len(self.rub):
            self.push = _taken_over(self.contacts.keys, self.push, contacts.keys)
            self.rub = _taken_over(self.rubs.keys, self.rub, rubs.keys)
        else:
            self.push, self.rub = np.zeros(len(contacts.keys)), np.zeros(len(rubs.keys))
        self.contacts, self.rubs = contacts, rubs

    def split(self, state: Points) -> tuple[Points, Points]:
        """Return points and pitches of a state."""
        return state[: 3 * self.count].reshape(-1, 3), state[3 * self.count :]

    def __call__(self, state: Points) -> tuple[float, Points]:
        points, pitches = self.split(state)
        slope, by_pitch = np.zeros_like(points), self._pull.copy()
        value = float(self._pull @ pitches)
        for part in (self._length, self._contact, self._bars):
            energy, by_point, more = part(points, pitches)
            value += energy
            slope += by_point
            by_pitch += more
        return value, np.concatenate((slope.ravel(), by_pitch))

    def _length(self, points: Points, pitches: Points) -> tuple[float, Points, Points]:
        """Root of n times the sum of squared edges: the length once the edges are equal."""
        vectors = self._links.vectors(points, shifts_of(self._shape, pitches))
        squares = np.bincount(self._owner, (vectors**2).sum(axis=1))
        size = np.sqrt(self._sizes * squares)
        force = vectors * (self._tension * self._sizes / size)[self._owner, None]
        return float(self._tension @ size), *self._gathered(self._links, force)

    def _gathered(self, links: Links, force: Points) -> tuple[Points, Points]:
        along = force[:, list(self._shape.along)]
        return links.spread(force, self.count), (links.cells * along).sum(axis=0)

    def _contact(self, points: Points, pitches: Points) -> tuple[float, Points, Points]:
        links = self.contacts.links
        vectors = links.vectors(points, shifts_of(self._shape, pitches))
        apart = np.sqrt((vectors**2).sum(axis=1)) + 1e-12
        load = self.push + STIFFNESS * (self.contacts.least - apart)
        on = load > 0
        load, links = load[on], links.subset(on)
        force = -vectors[on] * (load / apart[on])[:, None]
        return float(load @ load) / (2 * STIFFNESS), *self._gathered(links, force)

    def _bars(self, points: Points, pitches: Points) -> tuple[float, Points, Points]:
        rubs = self.rubs
        vectors, apart = self._from_bars(points, pitches)
        load = np.maximum(0, self.rub + STIFFNESS * (rubs.least - apart))
        force = -vectors * (load / apart)[:, None]
        slope = np.column_stack(
            [np.bincount(rubs.point, force[:, k], self.count) for k in range(3)]
        )
        by_pitch = -(rubs.cells * force[:, list(self._shape.along)]).sum(axis=0)
        return float(load @ load) / (2 * STIFFNESS), slope, by_pitch

    def _from_bars(self, points: Points, pitches: Points) -> tuple[Points, Points]:
        rubs = self.rubs
        centre = rubs.centre + rubs.cells @ shifts_of(self._shape, pitches)
        vectors = np.zeros((len(rubs.point), 3))
        full = points[rubs.point] - centre
        np.put_along_axis(
            vectors, rubs.across, np.take_along_axis(full, rubs.across, axis=1), axis=1
        )
        return vectors, np.sqrt((vectors**2).sum(axis=1)) + 1e-12

    def update(self, state: Points) -> float:
        """Move the multipliers to the state; give the worst overlap."""
        points, pitches = self.split(state)
        vectors = self.contacts.links.vectors(points, shifts_of(self._shape, pitches))
        short = self.contacts.least - np.linalg.norm(vectors, axis=1)
        pressed = self.rubs.least - self._from_bars(points, pitches)[1]
        self.push = np.maximum(0, self.push + STIFFNESS * short)
        self.rub = np.maximum(0, self.rub + STIFFNESS * pressed)
        return float(max(short.max(initial=0), pressed.max(initial=0)))


def _taken_over(old_keys: Whole, old: Points, keys: Whole) -> Points:
    """Return the old values at the new keys, 0 where there was none."""
    values = np.zeros(len(keys))
    if len(old_keys):
        order = np.argsort(old_keys)
        place = np.minimum(np.searchsorted(old_keys[order], keys), len(order) - 1)
        known = old_keys[order][place] == keys
        values[known] = old[order][place][known]
    return values


def resampled(strand: Strand, shift: Points, turn: float, spacing: float) -> Points:
    """Return a strand's points anew at equal spacing; `shift` and `turn` lead to its next cell."""
    points = strand.points
    if strand.onward:
        cos, sin = np.cos(turn), np.sin(turn)
        matrix = np.array([[cos, -sin, 0], [sin, cos, 0], [0, 0, 1]])
        after = points[:4] @ matrix.T + shift
        before = (points[-3:] - shift) @ matrix
        spread = np.concatenate((before, points, after))
        skip, last = 3, 3 + len(points)
    elif strand.closed:
        spread = np.concatenate((points[-3:], points, points[:4]))
        skip, last = 3, 3 + len(points)
    else:
        spread, skip, last = points, 0, len(points) - 1
    arc = np.concatenate(([0], np.cumsum(np.linalg.norm(np.diff(spread, axis=0), axis=1))))
    length = arc[last] - arc[skip]
    count = max(8, round(length / spacing))
    spline = scipy.interpolate.CubicSpline(arc, spread)
    if strand.is_open:
        return spline(np.linspace(0, length, count + 1))
    return spline(arc[skip] + length * np.arange(count) / count)


def at_spacing(arrangement: Arrangement, spacing: float) -> Arrangement:
    """Return the arrangement with its strands' points at another spacing."""
    shifts = shifts_of(arrangement, np.array(arrangement.pitches))
    points = []
    for strand in arrangement.strands:
        onward = np.array(strand.onward or (0,) * len(shifts), dtype=float)
        turn = onward[0] * arrangement.turn if len(onward) else 0.0
        again = resampled(strand, onward @ shifts, turn, spacing)
        again[:, 1] = np.clip(again[:, 1], -strand.slab, strand.slab)
        points.append(again)
    return arrangement.with_state(points, arrangement.pitches)


def _limits(arrangement: Arrangement, state: Points) -> tuple[Points, Points]:
    """Bound a round's moves: REACH for all, ends in their planes, slabs, pitches that are held."""
    low, high = state - REACH, state + REACH
    start = 0
    for strand in arrangement.strands:
        n = len(strand.points)
        if strand.is_open:
            for end in (start, start + n - 1):
                low[3 * end + strand.pulled] = high[3 * end + strand.pulled] = state[
                    3 * end + strand.pulled
                ]
        level = slice(3 * start + 1, 3 * (start + n), 3)
        low[level] = np.maximum(low[level], -strand.slab)
        high[level] = np.minimum(high[level], strand.slab)
        start += n
    if arrangement.held:
        low[3 * start :] = high[3 * start :] = state[3 * start :]
    return low, high


def state_of(arrangement: Arrangement) -> Points:
    """Return all coordinates and pitches in one array."""
    points = np.concatenate([s.points for s in arrangement.strands])
    return np.concatenate((points.ravel(), arrangement.pitches))


def _unpacked(arrangement: Arrangement, state: Points) -> Arrangement:
    ends = np.cumsum([0, *(len(s.points) for s in arrangement.strands)])
    points = state[: 3 * ends[-1]].reshape(-1, 3)
    return arrangement.with_state([points[a:b] for a, b in pairwise(ends)], state[3 * ends[-1] :])


def _run(arrangement: Arrangement, stage: Stage) -> Tightened:
    arrangement = at_spacing(arrangement, stage.spacing)
    energy = Energy(arrangement)
    sizes: list[float] = []
    overlap, settled = 0.0, False
    for _ in range(stage.rounds):
        energy.find(arrangement)
        low, high = _limits(arrangement, state := state_of(arrangement))
        done = scipy.optimize.minimize(
            energy, np.clip(state, low, high), jac=True, method="L-BFGS-B",
            bounds=scipy.optimize.Bounds(low, high),
            options={"maxiter": ROUND, "maxcor": 20, "ftol": 1e-10, "gtol": 1e-5},
        )  # fmt: skip
        overlap = energy.update(done.x)
        arrangement = _unpacked(arrangement, done.x)
        sizes.append(float(lengths(arrangement).sum() + sum(arrangement.pitches)))
        settled = bool(_rests(sizes, overlap, stage))
        if settled:
            break
    ends = tuple(float(x) for x in lengths(arrangement))
    return Tightened(arrangement, ends, overlap, len(sizes), settled)


def _rests(sizes: Sequence[float], overlap: float, stage: Stage) -> bool:
    last = sizes[-10:]
    return len(last) == 10 and np.ptp(last) < stage.settled * last[-1] and overlap < 0.005


def tighten(arrangement: Arrangement, stages: Sequence[Stage] = FULL) -> Tightened:
    """Shorten an arrangement through stages of finer and finer points until it stops."""
    done = _run(arrangement, stages[0])
    for stage in stages[1:]:
        done = _run(done.arrangement, stage)
    return done
