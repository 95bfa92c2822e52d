"""How long a piece, or what is left of it, takes: the plan's counts at the maker's paces."""

from bisect import bisect_left, bisect_right
from collections import defaultdict
from math import ceil

from coach.knots import geometry
from coach.pace.estimate import Paces, Range, scale_to, stated_time, time_beside
from coach.pace.prior import PLAIT_CROSSING_S
from coach.plan.plan_model import Plan, PlannedStep
from coach.project import model

_PERIOD = 6  # crossings after which a plait's order is back
_PLAIT_SPREAD = (0.7, 1.4)  # how far plaiting by length may differ; rough


class Forecast:
    """Answers how long counts take; what does not change with the count is worked out once."""

    def __init__(self, plan: Plan) -> None:
        self._plan = plan
        self._stated = [
            (step, stated) for step in plan.steps if (stated := stated_s(plan, step)) is not None
        ]
        self._moments = [stated_time(*stated) for _, stated in self._stated]
        says_itself = {number for step, _ in self._stated for number in range(step.first, step.end)}
        self._at: dict[str, list[int]] = defaultdict(list)
        for number, count in enumerate(plan.counts):
            if number not in says_itself:
                self._at[count.knot].append(number)

    def prior(self, paces: Paces | None = None) -> Paces:
        """Return the paces a piece begins with: the maker's, held against the file's `takes`."""
        paces = paces or Paces()
        takes = self._plan.project.takes_s
        if takes is None:
            return paces
        every = [stated for _, stated in self._stated]
        return scale_to(paces, self._ties(0, self._plan.total), takes, every)

    def left(self, paces: Paces, done: int, end: int | None = None) -> Range:
        """Return the time from count `done` to count `end`, or to the end of the piece."""
        last = self._plan.total if end is None else end
        return time_beside(paces, self._ties(done, last), self._told(done, last))

    def takes_s(self) -> dict[int, float]:
        """Return the seconds of every count whose step says its time itself."""
        return {
            number: (least + most) / 2 / step.counts
            for step, (least, most) in self._stated
            for number in range(step.first, step.end)
        }

    def _ties(self, first: int, end: int) -> dict[str, int]:
        return {k: bisect_left(at, end) - bisect_left(at, first) for k, at in self._at.items()}

    def _told(self, first: int, end: int) -> list[tuple[float, float]]:
        """Return what the steps say that lie between two counts; a step begun has its share left.

        Only the first and the last of them can be begun.
        """
        low = bisect_right(self._stated, first, key=lambda stated: stated[0].end)
        high = bisect_left(self._stated, end, lo=low, key=lambda stated: stated[0].first)
        told = self._moments[low:high]
        for place in {low, high - 1} if told else ():
            step, (least, most) = self._stated[place]
            share = (min(step.end, end) - max(step.first, first)) / step.counts
            told[place - low] = stated_time(least * share, most * share)
        return told


def unknown_makers_time(plan: Plan) -> Range:
    """Return how long the whole piece takes somebody whose paces are not known yet."""
    forecast = Forecast(plan)
    return forecast.left(forecast.prior(), 0)


def stated_s(plan: Plan, step: PlannedStep) -> tuple[float, float] | None:
    """Return (least, most) seconds of a step that says its time itself, or None."""
    source = step.source
    if source.about.takes_s is not None:
        return source.about.takes_s
    if isinstance(source, model.Wait):
        return (source.time_s, source.time_s)
    if isinstance(source, model.Braid):
        likely = PLAIT_CROSSING_S * _crossings(plan, step, source)
        return (likely * _PLAIT_SPREAD[0], likely * _PLAIT_SPREAD[1])
    return None


def _crossings(plan: Plan, step: PlannedStep, braid: model.Braid) -> int:
    """Return how many crossings a plait has; by length, in whole periods."""
    if braid.length_mm is None:
        return step.counts
    cords, cord_of = plan.project.cords, [strand.cord for strand in plan.strands]
    bundles = [
        [cords[cord_of[s]].diameter_mm * plan.hands.compression_of(cord_of[s]) for s in group]
        for group in step.groups
    ]
    return _PERIOD * ceil(braid.length_mm / geometry.plait(bundles).pitch_mm / _PERIOD)
