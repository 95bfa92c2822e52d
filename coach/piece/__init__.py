"""A piece under way: its events, its state and where they are kept."""

from coach.piece.clock import Clock, SystemClock
from coach.piece.folders import Folders, folders, made
from coach.piece.problems import (
    Busy,
    CannotKeep,
    Damaged,
    NameTaken,
    NewerVersion,
    NoSuchPiece,
    OutOfTurn,
    PieceError,
)
from coach.piece.service import (
    Sitting,
    find_named,
    find_unfinished,
    look,
    paces_so_far,
    pieces,
    start,
)
from coach.piece.state import State
from coach.piece.store import Store, Summary

__all__ = [
    "Busy",
    "CannotKeep",
    "Clock",
    "Damaged",
    "Folders",
    "NameTaken",
    "NewerVersion",
    "NoSuchPiece",
    "OutOfTurn",
    "PieceError",
    "Sitting",
    "State",
    "Store",
    "Summary",
    "SystemClock",
    "find_named",
    "find_unfinished",
    "folders",
    "look",
    "made",
    "paces_so_far",
    "pieces",
    "start",
]
