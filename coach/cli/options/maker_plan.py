"""A plan in the maker's own hands and at her own pace, as her earlier pieces taught."""

import argparse
import os
from collections.abc import Callable
from dataclasses import dataclass

from coach.cli.file_output import refuse_call
from coach.pace.estimate import Paces, initial_paces
from coach.piece import PieceError, Store, folders
from coach.piece.learning.carry_over import PriorLearning, carry_over
from coach.piece.learning.estimates import in_hands
from coach.piece.reports.forecast import Forecast
from coach.plan.plan_model import Plan
from coach.plan.resize.refit import as_wished, recompiled
from coach.plan.resize.size_request import Wish


@dataclass(frozen=True, slots=True)
class MakerPlan:
    """A plan in the maker's hands, and the paces with which she would begin it.

    `learnt_from` are the pieces whose measures count for its cords.
    """

    plan: Plan
    paces: Paces
    learnt_from: tuple[str, ...] = ()


def add_untaught(parser: argparse._ActionsContainer) -> None:
    """Add the option to leave out what the maker's pieces have taught."""
    parser.add_argument(
        "--untaught", action="store_true", help="without what your own pieces have taught"
    )


def plan_for_maker(
    plan: Plan, skill: Callable[[], str], *, untaught: bool = False, cords: Wish | None = None
) -> MakerPlan:
    """Return a plan in the maker's hands, as the bench begins a piece of it.

    No store is created where there is none yet. Pieces that cannot be read teach nothing, which is
    reported.

    Args:
        plan: The plan as its file has it.
        skill: Return the maker's skill.
        untaught: Whether to leave out what her pieces have taught.
        cords: The cords of other diameters that are wished for, if any: those are looked up.

    Raises:
        CannotRefit: A cord that is wished for is not in the project.
    """
    carried = None if untaught else _carried(plan, skill(), cords)
    if carried is None:
        return MakerPlan(plan, Forecast(plan).prior(initial_paces(skill())))
    paces = Forecast(plan).prior(carried.paces)
    return MakerPlan(in_hands(plan, carried.beliefs), paces, carried.pieces)


def _carried(plan: Plan, skill: str, cords: Wish | None) -> PriorLearning | None:
    database = folders(os.environ).database
    if not database.exists():
        return None
    looked = recompiled(as_wished(plan.project, cords), plan.hands) if cords else plan
    try:
        with Store(database) as store:
            return carry_over(store, looked.project, looked, skill)
    except PieceError as error:
        refuse_call(f"{error} What your pieces have taught is left out.")
        return None
