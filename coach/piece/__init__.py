"""A piece under way: its events, its state, and the store that holds them."""

from coach.piece.clock import Clock, SystemClock
from coach.piece.piece_errors import (
    AlreadyThere,
    Busy,
    CannotKeep,
    CannotTakeIn,
    CountedOtherwise,
    Damaged,
    NameTaken,
    NewerVersion,
    NoSuchPiece,
    NotOurs,
    OutOfTurn,
    PieceError,
    TakenOver,
)
from coach.piece.service import (
    find_named,
    find_unfinished,
    list_pieces,
    look,
    notes_before,
    start_piece,
)
from coach.piece.sitting.sitting import Sitting
from coach.piece.state import Note, State
from coach.piece.storage.folders import Folders, ensure_folder, folders
from coach.piece.storage.store import Store
from coach.piece.storage.summary import Summary

__all__ = [
    "AlreadyThere",
    "Busy",
    "CannotKeep",
    "CannotTakeIn",
    "Clock",
    "CountedOtherwise",
    "Damaged",
    "Folders",
    "NameTaken",
    "NewerVersion",
    "NoSuchPiece",
    "NotOurs",
    "Note",
    "OutOfTurn",
    "PieceError",
    "Sitting",
    "State",
    "Store",
    "Summary",
    "SystemClock",
    "TakenOver",
    "ensure_folder",
    "find_named",
    "find_unfinished",
    "folders",
    "list_pieces",
    "look",
    "notes_before",
    "start_piece",
]
