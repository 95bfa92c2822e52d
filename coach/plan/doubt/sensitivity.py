"""Slopes: how cord and length change with each compression and slack."""

from bisect import bisect_right
from collections.abc import Iterator
from typing import Final

from coach.plan.plan_model import Plan, once, remeasured
from coach.plan.tension import Figure, Slopes

_STEP: Final = 0.01  # of compression; cord and length are very nearly straight in it


class ManySlopes:
    """The slopes of a plan at its own hands, with a cache of what the count does not change."""

    def __init__(self, plan: Plan) -> None:
        self._plan = plan
        self._knots = plan.by_knot
        cords = dict.fromkeys(strand.cord for strand in plan.strands)
        self._softer = {cord: self._with_step(cord) for cord in cords}

    def _with_step(self, cord: str) -> Plan:
        hands = self._plan.hands
        more = hands.compression_of(cord) + _STEP
        return remeasured(self._plan, hands.with_figures({(cord, ""): more}))

    @property
    def figures(self) -> tuple[Figure, ...]:
        """Every figure that the plan's cord depends on."""
        knots = {
            (strand.cord, knot)
            for strand, used in zip(self._plan.strands, self._knots, strict=True)
            for knot in used
        }
        return (*((cord, "") for cord in self._softer), *sorted(knots))

    def softened(self) -> Iterator[tuple[str, float, Plan]]:
        """Yield each cord, the change of its compression, and the plan with that change."""
        for cord, plan in self._softer.items():
            yield cord, _STEP, plan

    def of_use(self, strand: int, done: int, since: int = 0) -> dict[Figure, float]:
        """Return how a strand's use changes with each figure of the hands.

        Args:
            strand: The index of the strand.
            done: The count up to which cord is looked at.
            since: The count from which it is.

        Returns:
            mm of cord for each unit of a figure, by figure: compression of a cord, slack of a knot.
        """
        cord, own = self._plan.strands[strand].cord, self._plan.ledgers[strand]
        now, before = own.used_after(done), own.used_after(since)
        found: dict[Figure, float] = {}
        for softer_cord, softer in self._softer.items():
            other = softer.ledgers[strand]
            grown = (other.used_after(done) - now) - (other.used_after(since) - before)
            found[softer_cord, ""] = grown / _STEP
        for knot, (at, totals) in self._knots[strand].items():
            found[cord, knot] = _after(at, totals, done) - _after(at, totals, since)
        return found

    def of_length(self, done: int, since: int = 0) -> Slopes:
        """Return how the length of the work changes with each figure of the hands.

        Args:
            done: The count up to which the work is looked at.
            since: The count from which it is.

        Returns:
            mm of length for each unit of a figure, by figure.
        """
        own = self._plan.height_mm
        return {
            (cord, ""): (other[done] - own[done] - other[since] + own[since]) / _STEP
            for cord, other in ((cord, plan.height_mm) for cord, plan in self._softer.items())
        }


def _after(at: list[int], totals: list[float], done: int) -> float:
    found = bisect_right(at, done - 1)
    return totals[found - 1] if found else 0.0


@once
def slopes_of(plan: Plan) -> ManySlopes:
    """Return the slopes of a plan's cord and length by each figure of the hands."""
    return ManySlopes(plan)
