"""A project in the maker's own hands: its plan with what her cords taught, and her own pace."""

import os
from collections.abc import Callable
from dataclasses import dataclass

from coach.cli.asked.own_hands import own_hands
from coach.cli.project_files import read_file
from coach.orders.desk_state import DeskState
from coach.pace.estimate import Paces, Range, time_for
from coach.pace.stretch import Stretch
from coach.piece import Store, folders
from coach.piece.desk_log import desk_now
from coach.plan.plan_model import Plan
from coach.plan.resize.size_request import Wish


@dataclass(frozen=True, slots=True)
class InHands:
    """A plan in the maker's hands, the paces with which she would begin it, and her desk."""

    plan: Plan
    paces: Paces
    desk: DeskState

    def time_for(self, work: Stretch) -> Range:
        """Return how long work takes her."""
        return time_for(self.paces, work)


def read_in_hands(
    name: str, skill: Callable[[], str], *, untaught: bool = False, cords: Wish | None = None
) -> InHands | None:
    """Return a project in the maker's hands; its problems go to the error output.

    Nothing is made where she has kept no pieces yet. Raises NoSuchProject, CannotRefit, PieceError.

    Args:
        name: The project, by path or shelf name.
        skill: Tells how used she is to knotting.
        untaught: Whether to leave out what her pieces have taught.
        cords: The cords of other diameters that are wished for, if any.
    """
    plan = read_file(name)
    if plan is None:
        return None
    own = own_hands(plan, skill, untaught=untaught, cords=cords)
    database = folders(os.environ).database
    if not database.exists():
        return InHands(own.plan, own.paces, DeskState())
    with Store(database) as store:
        return InHands(own.plan, own.paces, desk_now(store))
