"""The standard time of a plan's counts, by kind of work (see `coach.pace.prior`).

Knots have their time from their passes, whatever a file claims. A claim only counts where the
coach has no better figure, for work without a knot, and its error is learnt like a pace.
"""

from bisect import bisect_left
from collections import defaultdict
from collections.abc import Iterator, Mapping
from itertools import accumulate
from math import ceil
from typing import Final, TypeAlias

from coach.knots import geometry
from coach.pace.prior import (
    GROUP_S,
    HANDLING,
    HOLDER_S,
    PLAIT,
    PLAIT_CROSSING_S,
    STATED,
    STEP_S,
    STEP_STRAND_S,
    WAIT,
    pass_s,
)
from coach.pace.work_amount import WorkAmount, read_range, squared
from coach.plan.plan_model import Count, Plan, PlannedStep
from coach.project import model

_PERIOD: Final = 6  # crossings after which a plait's order is back
_KINDS: Final[Mapping[type[object], str]] = {
    model.Do: "do", model.Measure: "measure", model.Trim: "trim", model.Bead: "bead",
    model.Space: "space", model.Turn: "turn", model.Cross: "cross", model.Picot: "picot",
    model.Add: "add", model.LayAside: "lay aside", model.TakeUp: "take up", model.Flip: "flip",
    model.Seam: "seam", model.Attach: "attach", model.EndForEnd: "flip",
    model.BringDown: "take up", model.FoldBack: "fold back",
}  # fmt: skip

_Work: TypeAlias = Mapping[str, float]
"""Standard seconds by kind."""


class StandardTimes:
    """The standard times of a plan's counts, and of any run of them."""

    def __init__(self, plan: Plan) -> None:
        at: dict[str, list[int]] = defaultdict(list)
        each: dict[str, list[float]] = defaultdict(list)
        squares = [0.0]
        for number, work in enumerate(_counts(plan)):
            squares.append(squared(sum(work.values())) if WAIT not in work else 0.0)
            for kind, seconds in work.items():
                at[kind].append(number)
                each[kind].append(seconds)
        self._at = at
        self._up_to = {kind: [0.0, *accumulate(seconds)] for kind, seconds in each.items()}
        self._squares = list(accumulate(squares))

    def of(self, first: int, end: int) -> WorkAmount:
        """Return the work from count `first` up to count `end`, without that one."""
        found = {}
        for kind, at in self._at.items():
            low, high = bisect_left(at, first), bisect_left(at, end)
            if high > low:
                found[kind] = self._up_to[kind][high] - self._up_to[kind][low]
        return WorkAmount(found, self._squares[end] - self._squares[first])


def _counts(plan: Plan) -> Iterator[_Work]:
    """Yield the work of each count of a plan."""
    for step in plan.steps:
        source = step.source
        if plan.counts[step.first].knot:
            yield from _ties(plan, step)
        elif isinstance(source, model.Wait):
            yield from [{WAIT: source.time_s / step.counts}] * step.counts
        elif source.about.takes_s is not None:
            stated = read_range(*source.about.takes_s)[0]
            yield from [{STATED: stated / step.counts}] * step.counts
        elif isinstance(source, model.Braid):
            yield from _plait(plan, step, source)
        else:
            yield from _plain(plan, step)


def _ties(plan: Plan, step: PlannedStep) -> Iterator[_Work]:
    """Yield each tie, and before it the picking up of a holder or of a group's strands."""
    hands: frozenset[int] = frozenset()
    for number in range(step.first, step.end):
        count = plan.counts[number]
        strands = frozenset((*count.knotters, *count.fillers))
        anew = number == step.first if step.role == "row" else strands != hands
        hands = strands
        tie_s = _own_s(plan, count) or count.passes * pass_s(
            count.knot, _end_m(plan, count, number)
        )
        taking_up = HOLDER_S if step.role == "row" else GROUP_S
        yield {count.knot: tie_s, HANDLING: taking_up} if anew else {count.knot: tie_s}


def _own_s(plan: Plan, count: Count) -> float:
    """Return the time that the file gives for a knot of the maker's own, 0 where it gives none."""
    own = plan.project.knots.get(count.knot)
    return read_range(*own.takes_s)[0] if own and own.takes_s else 0.0


def _end_m(plan: Plan, count: Count, number: int) -> float:
    """Return the end that hangs from a knotter before a tie, in m: tail included, as a mean."""
    ends = [
        plan.ledgers[s].total_mm - plan.used_mm(s, number) + plan.tail_mm[s] for s in count.knotters
    ]
    return sum(ends) / len(ends) / 1000 if ends else 0.0


def _plait(plan: Plan, step: PlannedStep, braid: model.Braid) -> Iterator[_Work]:
    """Yield a plait: crossing by crossing, or at once when its length is given."""
    crossings = _crossings(plan, step, braid) / step.counts
    for number in range(step.counts):
        yield {PLAIT: crossings * PLAIT_CROSSING_S + (0.0 if number else STEP_S[PLAIT])}


def _plain(plan: Plan, step: PlannedStep) -> Iterator[_Work]:
    """Yield a step without a knot, which takes longer with more strands."""
    kind = _KINDS.get(type(step.source), "do")
    for count in plan.counts[step.first : step.end]:
        strands = len(count.knotters) + len(count.fillers)
        yield {kind: STEP_S[kind] + STEP_STRAND_S.get(kind, 0.0) * strands}


def _crossings(plan: Plan, step: PlannedStep, braid: model.Braid) -> int:
    """Return how many crossings a plait has; by length, in whole periods."""
    if braid.length_mm is None:
        return step.counts
    cords, cord_of = plan.project.cords, [strand.cord for strand in plan.strands]
    bundles = [
        [cords[cord_of[s]].diameter_mm * plan.hands.compression_of(cord_of[s]) for s in group]
        for group in step.groups
    ]
    return _PERIOD * ceil(braid.length_mm / geometry.plait_size(bundles).pitch_mm / _PERIOD)
