"""A piece read from the store: its line in the list, its events, how they leave it."""

from coach.piece.events import Event
from coach.piece.problems import Damaged, NoSuchPiece
from coach.piece.state import State, fold
from coach.piece.store import Store, Summary


def the_piece(store: Store, piece_id: int) -> Summary:
    """Give the piece with that number. Raises NoSuchPiece."""
    piece = store.piece(piece_id)
    if piece is None:
        raise NoSuchPiece(f"There is no piece number {piece_id}.")
    return piece


def caught_up(store: Store, piece: Summary, state: State) -> tuple[State, tuple[Event, ...]]:
    """Fold what the store has after `state`; give how the piece stands now, and those events.

    Raises:
        Damaged: An entry cannot be read, or cannot have happened; told with the piece's name.
        NewerVersion: A newer coach wrote one.
    """
    try:
        events = store.events_after(piece.id, state.seq)
        for event in events:
            state = fold(state, event)
    except Damaged as error:
        raise Damaged(
            f"The piece “{piece.name}” cannot be read: {error}. `coach mend` says what can be had "
            "back."
        ) from error
    return state, events
