"""A piece that is started already, called by its name where a project can be named."""

import os
from typing import Final

from coach.piece import NoSuchPiece, Store, find_named, folders
from coach.piece.events import Measured
from coach.piece.learning.estimates import known
from coach.piece.open_piece import OpenPiece, open_piece
from coach.plan.plan_model import Plan

KEEPS: Final = (
    "A piece you have started keeps its size and colours; press o on the bench to change its "
    "repeats."
)


def begun_piece(name: str) -> OpenPiece | None:
    """Return the piece of that name, None where there is none. Raises PieceError."""
    database = folders(os.environ).database
    if not database.exists():
        return None
    with Store(database) as store:
        try:
            found = find_named(store, name)
        except NoSuchPiece:
            return None
        return open_piece(store, found.id)


def as_begun(piece: OpenPiece) -> Plan:
    """Return the plan of a piece as it went on, in the hands that its measures show."""
    state, plan = piece.state, piece.plan
    if any(isinstance(happening, Measured) for happening in state.happenings):
        return known(piece.base, state.happenings, state.beliefs, plan).plan
    return plan
