"""A project or piece in the maker's own hands, with her own pace and her desk."""

import os
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date

from coach.cli.options.maker_plan import plan_for_maker
from coach.cli.options.piece_options import as_begun, find_begun_piece
from coach.cli.project_files import read_file
from coach.cli.project_finder import NoSuchProject
from coach.desk.desk_log import read_desk
from coach.orders.desk_state import DeskState
from coach.pace.estimate import Paces, Range, time_for
from coach.pace.work_amount import WorkAmount
from coach.piece import Store, SystemClock, folders
from coach.plan.plan_model import Plan
from coach.plan.resize.size_request import Wish
from coach.session.time_format import local_time


@dataclass(frozen=True, slots=True)
class MakerDesk:
    """A plan in the maker's hands, the paces with which she would begin it, and her desk.

    `begun` says that it is the plan of a piece under way, which keeps its size.
    """

    plan: Plan
    paces: Paces
    desk: DeskState
    begun: bool = False

    def time_for(self, work: WorkAmount) -> Range:
        """Return how long work takes her."""
        return time_for(self.paces, work)


def read_for_maker(
    name: str, skill: Callable[[], str], *, untaught: bool = False, cords: Wish | None = None
) -> MakerDesk | None:
    """Return a project, or a piece by its name, in the maker's hands.

    A project's problems go to standard error. No store is created where there is none yet.

    Args:
        name: The project, by path or shelf name, or the piece.
        skill: Return the maker's skill.
        untaught: Whether to leave out what her pieces have taught.
        cords: The cords of other diameters that are wished for, if any.

    Returns:
        None where the project has errors.

    Raises:
        NoSuchProject, CannotRefit, PieceError: It cannot be found, fitted or read.
    """
    try:
        plan = read_file(name)
    except NoSuchProject:
        piece = find_begun_piece(name)
        if piece is None:
            raise
        return MakerDesk(as_begun(piece), piece.state.paces, _desk(), begun=True)
    if plan is None:
        return None
    own = plan_for_maker(plan, skill, untaught=untaught, cords=cords)
    return MakerDesk(own.plan, own.paces, _desk())


def _desk() -> DeskState:
    database = folders(os.environ).database
    if not database.exists():
        return DeskState()
    with Store(database) as store:
        return read_desk(store)


def today() -> date:
    """Return the maker's current day, in her own time zone."""
    return local_time(SystemClock().now_ms()).date()
