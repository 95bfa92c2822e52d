"""Leaving the pattern: a piece's project becomes what is made of it so far."""

from coach.piece.clock import Clock
from coach.piece.events import TookProject
from coach.piece.folding import fold
from coach.piece.judge import judged
from coach.piece.open_piece import OpenPiece
from coach.piece.storage.read_piece import stands, the_piece
from coach.piece.storage.store import Store
from coach.recording.cut_off import cut_off


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
        state = stands(store, the_piece(store, piece_id))
        store.append(piece_id, fold(state, judged(event, state)), event)
