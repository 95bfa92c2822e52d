"""The workshop by the maker's own settings, for a command."""

import os
from dataclasses import replace
from functools import cache

from coach.cli import orders
from coach.cli.bench_setup import settings_of
from coach.cli.skill_question import skill_set
from coach.cli.workshop.put_away import PutAwayPieces
from coach.cli.workshop.workshop import Workshop
from coach.piece import Store, SystemClock, folders
from coach.session.ports import Aids
from coach.session.view_model import OrderDesk
from coach.settings.overrides import Kept


def order_desk(workshop: Workshop, store: Store, kept: Kept, first: str = "") -> OrderDesk:
    """Return the order desk for a screen.

    Args:
        workshop: The pieces, and what a project begins with.
        store: The store.
        kept: The settings in use, whose current unit is used for lengths.
        first: The project that is quoted first, "" for none.
    """
    return orders.DeskController(
        store, SystemClock(), workshop.begins, units=lambda: kept.now.units, first=first
    )


def with_order_desk(workshop: Workshop, store: Store, aids: Aids) -> Aids:
    """Return the helpers of a bench with the order desk added.

    Args:
        workshop: The pieces, and what a project begins with.
        store: The store.
        aids: The helpers.
    """
    desk = cache(lambda: order_desk(workshop, store, aids.kept))
    return replace(aids, order_desk=desk)


def workshop_of_maker(store: Store, kept: Kept | None = None) -> Workshop:
    """Return the workshop over a store; cord is cut in the current unit."""
    known = kept or settings_of(os.environ).kept
    drawer = PutAwayPieces(folders(os.environ).data)
    return Workshop(store, SystemClock(), skill_set, drawer, lambda: known.now.units)
