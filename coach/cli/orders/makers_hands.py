"""A project in the maker's own hands: its plan with what her cords taught, and her own pace."""

import os
from collections.abc import Callable
from dataclasses import dataclass

from coach.cli.project_files import read_file
from coach.pace.estimate import Paces, Range, beginning, time_for
from coach.pace.stretch import Stretch
from coach.piece import Store, folders
from coach.piece.learning.carry_over import carry_over
from coach.piece.learning.estimates import in_hands
from coach.piece.reports.forecast import Forecast
from coach.plan.plan_model import Plan


@dataclass(frozen=True, slots=True)
class InHands:
    """A plan in the maker's hands, and the paces with which she would begin it."""

    plan: Plan
    paces: Paces

    def time_for(self, work: Stretch) -> Range:
        """Return how long work takes her."""
        return time_for(self.paces, work)


def read_in_hands(name: str, skill: Callable[[], str]) -> InHands | None:
    """Return a project in the maker's hands; its problems go to the error output.

    Nothing is made where she has kept no pieces yet. Raises NoSuchProject, PieceError.
    """
    plan = read_file(name)
    if plan is None:
        return None
    database = folders(os.environ).database
    if not database.exists():
        return InHands(plan, Forecast(plan).prior(beginning(skill())))
    with Store(database) as store:
        carried = carry_over(store, plan.project, plan, skill())
    return InHands(in_hands(plan, carried.beliefs), Forecast(plan).prior(carried.paces))
