"""Actions on whole pieces: rename, delete, undo, begin another like one."""

from collections.abc import Callable, Sequence
from contextlib import suppress

from coach.piece.changes.repeat_search import Course
from coach.piece.changes.repeats import CannotFollow
from coach.piece.clock import Clock
from coach.piece.entering.happening_events import repeats_event
from coach.piece.event_bounds import checked_event
from coach.piece.events import Happening, Repeats, TookProject
from coach.piece.export_import import export_piece, from_text, take_in_piece
from coach.piece.folding import fold
from coach.piece.open_piece import OpenPiece
from coach.piece.service import claimed_name
from coach.piece.sitting.sitting import Sitting
from coach.piece.storage.read_piece import read_state, the_piece
from coach.piece.storage.store import Store
from coach.plan.plan_model import Plan
from coach.recording.project_cutting import cut_off
from coach.text import name_key


def rename_piece(store: Store, piece_id: int, name: str) -> str:
    """Rename a piece, and return the name as it is stored.

    Args:
        store: The store of pieces.
        piece_id: The piece's number.
        name: The name; it is put on one line. An empty one changes nothing.

    Raises:
        NameTaken: Another piece has that name.
        PieceError: It cannot be stored.
    """
    with store.atomic():
        piece = the_piece(store, piece_id)
        others = [other.name for other in store.pieces() if other.id != piece_id]
        chosen = claimed_name(name, others)
        if name_key(chosen):
            store.rename(piece_id, chosen)
    return chosen or piece.name


def delete_piece(store: Store, piece_id: int) -> Callable[[], str]:
    """Delete a piece with all its counts and notes, and return a function that restores it.

    That one returns a sentence that says so; it raises PieceError if it cannot restore the piece.
    """
    text = export_piece(store, piece_id)
    with store.atomic():
        store.remove(piece_id)
    return lambda: take_in_piece(store, from_text(text))


def repeat_like(sitting: Sitting, base: Plan, others: Sequence[Happening]) -> None:
    """Set a piece that was just begun to the repeats that another had at its end.

    A part that its project lacks by now, or cannot repeat that many times, is left as the project
    has it.

    Args:
        sitting: The new piece, opened; nothing is counted yet.
        base: The plan that it was begun with.
        others: The happenings of the other piece.

    Raises:
        PieceError: It cannot be stored.
    """
    last = {(one.part, one.call): one.times for one in others if isinstance(one, Repeats)}
    for (part, call), times in last.items():
        with suppress(CannotFollow):
            turns = Course(base, sitting.state.happenings, 0).turned(part, call, times)
            kind, fields = repeats_event(turns, 0)
            sitting.jot(kind, **fields)


def take_without_pattern(store: Store, clock: Clock, piece: OpenPiece) -> None:
    """Let a piece go on by sentences from where it is.

    Args:
        store: The store of pieces.
        clock: Tells the time of the event.
        piece: The piece.

    Raises:
        CannotCut: The pattern cannot be left at this count.
        PieceError: The change cannot be stored.
    """
    done, piece_id = piece.state.done, piece.kept.summary.id
    text = cut_off(piece.state.project_text, piece.plan, done)
    event = TookProject(
        at_ms=clock.now_ms(), tick_ms=clock.tick_ms(), sitting=0, project_text=text,
        total=done + 1, done=done,
    )  # fmt: skip
    with store.atomic():
        state = read_state(store, the_piece(store, piece_id))
        store.append(piece_id, fold(state, checked_event(event, state)), event)
