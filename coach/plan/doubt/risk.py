"""The chance that every strand reaches its tail, worked out from the doubt about hands and cord.

What a strand uses is taken as a normal: it follows the figures along its slopes, and on top each
strand differs a little by itself. Strands that share figures fall short together, so the chance
of a piece is that of all its strands at once: a mean over evenly spread figures of the product of
what is left to each strand alone.
"""

from collections import Counter
from collections.abc import Mapping, Sequence
from functools import cached_property
from math import erfc, hypot, sqrt
from operator import mul
from typing import Final

from coach.pace.gaussian import also
from coach.plan.cord.pieces import around_mm, pieces_of
from coach.plan.doubt.beside_measures import beside_measures, own_figures
from coach.plan.doubt.doubt import MODEL_SD, Doubt, told
from coach.plan.doubt.even_points import Point, normal_points
from coach.plan.doubt.matrices import cholesky
from coach.plan.measure.tension import Figure, Slopes
from coach.plan.plan_model import Plan

_MOST_WORK: Final = 40_000  # strands times points; what that takes is not felt
_PAIRS: Final = (32, 512)
_ROOT_HALF: Final = sqrt(0.5)
_COARSE: Final = 25.0  # parts of a standard deviation: strands nearer than that are one kind


class Risk:
    """How far each strand's need may be off, and the chance that given lengths are enough.

    A strand's *need* is what it uses, its share of the way round what it hangs on, and its tail.
    """

    def __init__(self, plan: Plan, doubt: Doubt | None = None) -> None:
        """Take up a plan.

        Args:
            plan: The plan, in the hands that are thought likely.
            doubt: The doubt about its figures; what its hands leave, if left out.
        """
        self.doubt = doubt_of(plan) if doubt is None else doubt
        self._slopes = slopes_of_needs(plan)
        self._noise = [MODEL_SD * ledger.total_mm for ledger in plan.ledgers]
        self._needs = needs_mm(plan)
        lower = cholesky(self.doubt.covariance)
        size = range(len(lower))
        self._moved: dict[Point, list[float]] = {}
        self._vectors = []
        for slopes in self._slopes:
            along = [slopes.get(figure, 0.0) for figure in self.doubt.unknowns]
            self._vectors.append([sum(along[j] * lower[j][i] for j in size) for i in size])

    def sd_mm(self, strand: int) -> float:
        """Return how far a strand's need may be off, as a standard deviation in mm."""
        return hypot(*self._vectors[strand], self._noise[strand])

    def falls_short(self, strand: int, length_mm: float) -> float:
        """Return the chance that a strand needs more than a length, its way round included."""
        return _at_most((self._needs[strand] - length_mm) / (self.sd_mm(strand) or 1e-9))

    def reach(self, lengths_mm: Mapping[int, float]) -> float:
        """Return the chance that none of these strands needs more than its length."""
        kinds = Counter(self._kind(strand, length) for strand, length in lengths_mm.items())
        points = self._points
        left = [1.0] * len(points)
        for (spare, vector), times in kinds.items():
            along = self._along(vector, points)
            left = [
                chance and chance * _at_most(spare - moved) ** times
                for chance, moved in zip(left, along, strict=True)
            ]
        return sum(left) / len(left)

    @cached_property
    def _points(self) -> tuple[Point, ...]:
        least, most = _PAIRS
        kinds = {self._kind(strand, 0.0) for strand in range(len(self._needs))}
        pairs = min(most, max(least, _MOST_WORK // (2 * len(kinds) or 1)))
        return normal_points(max(1, len(self.doubt.unknowns)), pairs)

    def _along(self, vector: Point, points: Sequence[Point]) -> list[float]:
        """Return by how much a strand's need is more at each point, in its own deviations."""
        found = self._moved.get(vector)
        if found is None:
            found = [sum(map(mul, vector, point)) for point in points]
            self._moved[vector] = found
        return found

    def _kind(self, strand: int, length_mm: float) -> tuple[float, Point]:
        """Return what is left to a strand and its vector, both in its own deviations."""
        own = self._noise[strand] or 1.0
        spare = _coarse((length_mm - self._needs[strand]) / own)
        return spare, tuple(_coarse(along / own) for along in self._vectors[strand])


def needs_mm(plan: Plan) -> list[float]:
    """Return what each strand needs, in mm: its use, its part of the way round, its tail."""
    shares = _ways_round(plan)
    return [
        ledger.total_mm + shares.get(strand, 0.0) + tail
        for strand, (ledger, tail) in enumerate(zip(plan.ledgers, plan.tail_mm, strict=True))
    ]


def doubt_of(plan: Plan) -> Doubt:
    """Return the doubt that a plan's hands and the measures in its file leave."""
    doubt = told(plan.project, plan.hands, plan.slopes.figures)
    return also(doubt, own_figures(plan))


def slopes_of_needs(plan: Plan) -> list[Slopes]:
    """Return the slopes of every strand's need."""
    slopes, total = plan.slopes, plan.total
    found = [slopes.of_use(strand, total) for strand in range(len(plan.strands))]
    own = _ways_round(plan)
    for cord, step, softer in slopes.softened():
        for strand, way in _ways_round(softer).items():
            figure: Figure = (cord, "")
            found[strand][figure] += (way - own[strand]) / step
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
    """Return the chance that a standard normal is at most so much."""
    return erfc(-deviations * _ROOT_HALF) / 2


def _coarse(deviations: float) -> float:
    return round(deviations * _COARSE) / _COARSE
