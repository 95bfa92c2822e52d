"""The chance that every strand reaches its tail, from the uncertainty of hands and cord.

What a strand uses is taken as a normal: it follows the figures along its slopes, and each strand
differs a little by itself. Strands that share figures fall short together, so the chance of a
piece is that of all its strands at once: a mean over evenly spread figures of the product of what
is left to each strand alone.
"""

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from math import erfc, hypot, sqrt
from operator import add, mul
from typing import Final, TypeAlias

from coach.knots import geometry
from coach.pace.gaussian import extended
from coach.plan.doubt.doubt import STRAND_SD, Doubt, doubt_after_measures
from coach.plan.doubt.joint_ranges import Point, along, cholesky, main_directions, normal_points
from coach.plan.doubt.own_measures import beside_measures, own_figures
from coach.plan.doubt.sensitivity import slopes_of
from coach.plan.pieces import around_mm, pieces_of
from coach.plan.plan_model import Plan, once
from coach.plan.tension import Figure, Slopes
from coach.project.model import Gathering

_TURN_SD: Final = 12**-0.5  # of a number that may be anything from none to one more. Geometry.
_HALF: Final = 0.5


@dataclass(frozen=True, slots=True)
class WholeTurns:
    """The surplus of the mean over the likely cord, and its standard deviation, in mm."""

    more_mm: float
    sd_mm: float


def whole_turns(plan: Plan) -> dict[int, WholeTurns]:
    """Return the effect of whole turns on each strand that wraps a length."""
    found = {}
    for step in plan.steps:
        if isinstance(step.source, Gathering):
            wrap = plan.counts[step.first].knotters[0]
            cord, length_mm = plan.strands[wrap].cord, step.source.length_mm
            thick = plan.project.cords[cord].diameter_mm * plan.hands.compression_of(cord)
            turns = geometry.gathering_turns(thick, length_mm)
            turn_mm = plan.ledgers[wrap].total_mm / turns
            more = length_mm / thick + _HALF - turns
            found[wrap] = WholeTurns(more * turn_mm, _TURN_SD * turn_mm)
    return found


Vectors: TypeAlias = tuple[Point, Point]
"""How a strand's use follows compression and slack, as shares, in directions of their own."""

_MOST_WORK: Final = 40_000  # strands times points; what that takes is not felt
_PAIRS: Final = (32, 512)
_ROOT_HALF: Final = sqrt(0.5)
_SURELY: Final = -6.0  # from here down half of erfc is 1 in floating point
_COARSE: Final = 2000  # parts of a strand's cord: strands nearer than that are one kind


class Risk:
    """The distribution of each strand's need, and the chance that given lengths are enough.

    A strand's *need* is what it uses, its share of the way round what it hangs on, and its tail.
    """

    def __init__(self, plan: Plan, doubt: Doubt | None = None) -> None:
        """Set up for a plan.

        Args:
            plan: The plan, in the likely hands.
            doubt: The mean and covariance of its figures; by default what its hands leave.
        """
        self.doubt = doubt_of(plan) if doubt is None else doubt
        self._used = [ledger.total_mm or 1.0 for ledger in plan.ledgers]
        self._own = [STRAND_SD] * len(self._used)
        self._needs = needs_mm(plan)
        self._turns = whole_turns(plan)
        for wrap, turns in self._turns.items():
            # Independent errors add as squares.
            self._own[wrap] = hypot(STRAND_SD, turns.sd_mm / self._used[wrap])
            self._needs[wrap] += turns.more_mm
        self._moved: dict[Vectors, list[float]] = {}
        self._look_along(slopes_of_needs(plan))

    def _look_along(self, slopes: Sequence[Slopes]) -> None:
        """Express strands' slopes, as shares of their cord, in the few directions that matter."""
        lower = cholesky(self.doubt.covariance)
        whole = [
            (self._vector(strand, one, lower, 0), self._vector(strand, one, lower, 1))
            for strand, one in enumerate(slopes)
        ]
        # Even points fill a few directions well and many badly, so nearly all is put into a few.
        ways = main_directions([vector for vectors in whole for vector in vectors])
        self._ways = len(ways)
        self._vectors = [(along(gives, ways), along(slacks, ways)) for gives, slacks in whole]
        for strand, (before, after) in enumerate(zip(whole, self._vectors, strict=True)):
            rest = max(0.0, _square(*before) - _square(*after))  # is off as if by itself
            self._own[strand] = hypot(self._own[strand], sqrt(rest))

    def _vector(self, strand: int, slopes: Slopes, lower: list[list[float]], slack: int) -> Point:
        """Return slopes of compression, or of slack, in independent standard deviations."""
        own = [
            slopes.get(figure, 0.0) / self._used[strand] if bool(figure[1]) == slack else 0.0
            for figure in self.doubt.unknowns
        ]
        size = range(len(lower))
        return tuple(sum(own[j] * lower[j][i] for j in size) for i in size)

    def sd_mm(self, strand: int) -> float:
        """Return the standard deviation of a strand's need, in mm."""
        gives, slacks = self._vectors[strand]
        return self._used[strand] * hypot(*map(add, gives, slacks), self._own[strand])

    def beyond_mm(self, strand: int, deviations: float) -> float:
        """Return what a strand needs beyond the likely, at a number of standard deviations."""
        turns = self._turns.get(strand)
        return (turns.more_mm if turns else 0.0) + deviations * self.sd_mm(strand)

    def falls_short(self, strand: int, length_mm: float) -> float:
        """Return the chance that a strand needs more than a length, its way round included."""
        return _at_most((self._needs[strand] - length_mm) / (self.sd_mm(strand) or 1e-9))

    def reach(self, lengths_mm: Mapping[int, float]) -> float:
        """Return the chance that none of these strands needs more than its length."""
        kinds = Counter(self._kind(strand, length) for strand, length in lengths_mm.items())
        points = self._points
        left = [1.0] * len(points)
        for (spare, own, vectors), times in kinds.items():
            found, by = self._more(vectors, points), _ROOT_HALF / own
            # Its factor is 1 at every point, and most strands of a piece are that safe.
            if (max(found) - spare) * by < _SURELY:
                continue
            left = [
                chance and chance * (erfc((more - spare) * by) / 2) ** times
                for chance, more in zip(left, found, strict=True)
            ]
        return sum(left) / len(left)

    @cached_property
    def _points(self) -> tuple[Point, ...]:
        least, most = _PAIRS
        kinds = {self._kind(strand, 0.0) for strand in range(len(self._needs))}
        pairs = min(most, max(least, _MOST_WORK // (2 * len(kinds) or 1)))
        return normal_points(max(1, self._ways), pairs)

    def _more(self, vectors: Vectors, points: Sequence[Point]) -> list[float]:
        """Return the share of its cord that a strand uses more at each point.

        Slack is a share of cord that compression has scaled: the two multiply.
        """
        found = self._moved.get(vectors)
        if found is None:
            found = []
            gives, slacks = vectors
            for point in points[::2]:  # the next is its mirror image
                give, slack = sum(map(mul, gives, point)), sum(map(mul, slacks, point))
                both = give * slack
                found += (give + slack + both, both - give - slack)
            self._moved[vectors] = found
        return found

    def _kind(self, strand: int, length_mm: float) -> tuple[float, float, Vectors]:
        """Return a strand's surplus, its own standard deviation, and its vectors."""
        gives, slacks = self._vectors[strand]
        spare = (length_mm - self._needs[strand]) / self._used[strand]
        coarse = (tuple(map(_coarse, gives)), tuple(map(_coarse, slacks)))
        return _coarse(spare), _coarse(self._own[strand]), coarse


@once
def risk_of(plan: Plan) -> Risk:
    """Return the risk model of a plan's cord in its own hands."""
    return Risk(plan)


def needs_mm(plan: Plan) -> list[float]:
    """Return each strand's need in mm: its use, its part of the way round, its tail."""
    shares = _ways_round(plan)
    return [
        ledger.total_mm + shares.get(strand, 0.0) + tail
        for strand, (ledger, tail) in enumerate(zip(plan.ledgers, plan.tail_mm, strict=True))
    ]


def doubt_of(plan: Plan) -> Doubt:
    """Return mean and covariance of a plan's figures, measurements in its file included."""
    doubt = doubt_after_measures(plan.project, plan.hands, slopes_of(plan).figures)
    return extended(doubt, own_figures(plan))


def slopes_of_needs(plan: Plan) -> list[Slopes]:
    """Return the slopes of every strand's need."""
    slopes, total = slopes_of(plan), plan.total
    found = [slopes.of_use(strand, total) for strand in range(len(plan.strands))]
    own = _ways_round(plan)
    for cord, step, softer in slopes.softened():
        for strand, way in _ways_round(softer).items():
            figure: Figure = (cord, "")
            found[strand][figure] += (way - own[strand]) / step
    for wrap in whole_turns(
        plan
    ):  # by whole turns, which a small step of compression misleads about
        found[wrap] = {figure: slope for figure, slope in found[wrap].items() if figure[1]}
    return [beside_measures(plan, strand, along) for strand, along in enumerate(found)]


def _ways_round(plan: Plan) -> dict[int, float]:
    """Return each strand's half of the way round what its piece hangs on."""
    around = around_mm(plan)
    return {
        strand: around[piece.strands[0]] / len(piece.strands)
        for piece in pieces_of(plan)
        if piece.strands[0] in around
        for strand in piece.strands
    }


def _at_most(deviations: float) -> float:
    """Return the standard normal distribution function."""
    return erfc(-deviations * _ROOT_HALF) / 2


def _square(one: Point, other: Point) -> float:
    """Return the squared length of the sum of two vectors."""
    return sum((a + b) ** 2 for a, b in zip(one, other, strict=True))


def _coarse(share: float) -> float:
    return round(share * _COARSE) / _COARSE
