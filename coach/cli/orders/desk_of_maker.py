"""The desk as the maker's own settings have it, for a command."""

import os

from coach.cli.bench_setup import settings_of
from coach.cli.desk import Desk
from coach.cli.drawer import Drawer
from coach.cli.skill_question import skill_set
from coach.piece import Store, SystemClock, folders
from coach.settings.overrides import Kept


def desk_of_maker(store: Store, kept: Kept | None = None) -> Desk:
    """Return the desk over a store; cord is cut in the unit that is set at that moment."""
    known = kept or settings_of(os.environ).kept
    drawer = Drawer(folders(os.environ).data)
    return Desk(store, SystemClock(), skill_set, drawer, lambda: known.now.units)
