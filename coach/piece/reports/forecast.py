"""Forecasts of the time that a piece takes: the plan's work at the maker's paces."""

from functools import cached_property

from coach.pace.estimate import Paces, Range, initial_paces, learn_claim, time_for
from coach.pace.prior import STATED_SKILLS
from coach.pace.work_amount import WorkAmount
from coach.plan.plan_model import Plan
from coach.plan.standard_times import StandardTimes


class Forecast:
    """Computes how long counts take; the plan is measured when it is first needed."""

    def __init__(self, plan: Plan) -> None:
        self.plan = plan

    @cached_property
    def _standard(self) -> StandardTimes:
        return StandardTimes(self.plan)

    def work(self, first: int, end: int) -> WorkAmount:
        """Return the work of some counts, which paces turn into time.

        Args:
            first: The first count, from 0.
            end: The count after the last one.
        """
        return self._standard.of(first, end)

    def prior(self, paces: Paces) -> Paces:
        """Return the paces that a piece begins with, taught by the file's own `takes`.

        That figure is about the repeats that the file has: for a piece fitted to others, use the
        forecast of the file's own plan.
        """
        project = self.plan.project
        if project.takes_s is None:
            return paces
        skill = STATED_SKILLS.get(project.skill, "")
        return learn_claim(paces, self.work(0, self.plan.total), project.takes_s, skill)

    def left(self, paces: Paces, done: int, end: int | None = None) -> Range:
        """Return how long some counts take.

        Args:
            paces: The maker's current paces.
            done: How many counts are made.
            end: How many are made at the end; None for all of the piece.

        Returns:
            A range in seconds that holds four times in five, other days included.
        """
        return time_for(paces, self.work(done, self.plan.total if end is None else end))


def time_of(plan: Plan, skill: str, base: Plan | None = None) -> Range:
    """Return how long the whole piece takes a maker of whom only the skill is known.

    Args:
        plan: The plan.
        skill: Her skill.
        base: The plan as the file has it, if `plan` was fitted: the file's `takes` is about that
            one.
    """
    return Forecast(plan).left(Forecast(base or plan).prior(initial_paces(skill)), 0)
