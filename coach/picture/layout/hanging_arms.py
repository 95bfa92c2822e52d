"""Arms of round work: sennits that hang free of each other, like those that hold a pot."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from coach.plan.measure.places import Places
from coach.plan.plan_model import Plan, PlannedStep
from coach.project import model

_LONG: Final = 3.0  # of its width, from which on a sennit is an arm
_FEWEST: Final = 2
_APART: Final = 1.0  # of an arm's width, between two of them


@dataclass(frozen=True, slots=True)
class Arms:
    """Where arms hang apart: after which positions, and how far in mm."""

    after: frozenset[int] = frozenset()
    gap_mm: float = 0.0

    @property
    def spread_mm(self) -> float:
        """The extra width of the work; the gap at the seam is one of them."""
        return len(self.after) * self.gap_mm


NONE: Final = Arms()


def arms_of(plan: Plan, places: Places) -> Arms:
    """Return the arms of round work that is made in groups for long stretches.

    They are drawn apart: what is knotted side by side on the board hangs round something, and as
    one flat web it would not be recognized.
    """
    if not plan.project.start.closed or plan.project.start.flat or _moves(plan):
        return NONE
    found: dict[int, set[int]] = {}
    for group, steps in _stretches(plan):
        long = max(map(places.bottom_mm.__getitem__, _counts(steps)), default=0.0)
        long -= min(map(places.top_mm.__getitem__, _counts(steps)), default=0.0)
        wide = sum(places.contact_mm[strand] for strand in group)
        if long >= _LONG * wide:
            order = steps[0].before
            found.setdefault(len(order), set()).add(max(map(order.index, group)))
    after = frozenset(found.get(len(plan.start), ()))
    if len(found) != 1 or len(after) < _FEWEST or len(plan.start) - 1 not in after:
        return NONE
    wide = places.width_mm / len(after)
    return Arms(after, round(_APART * wide, 3))


def _moves(plan: Plan) -> bool:
    """Return whether strands come or go, or the seam moves."""
    return any(
        isinstance(step.source, model.Seam) or len(step.after) != len(plan.start)
        for step in plan.steps
    )


def _stretches(plan: Plan) -> list[tuple[frozenset[int], list[PlannedStep]]]:
    """Return the runs of steps that work on one group of the strands only."""
    found: list[tuple[frozenset[int], list[PlannedStep]]] = []
    for step in plan.steps:
        group = frozenset(step.window)
        if not group or len(group) == len(step.before):
            continue
        if found and found[-1][0] == group and found[-1][1][-1].index == step.index - 1:
            found[-1][1].append(step)
        else:
            found.append((group, [step]))
    return found


def _counts(steps: Sequence[PlannedStep]) -> range:
    return range(steps[0].first, steps[-1].end)
