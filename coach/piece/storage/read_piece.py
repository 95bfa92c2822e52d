"""A piece read from the store: its line in the list, its events, how they leave it."""

from collections.abc import Iterator
from contextlib import contextmanager
from functools import reduce

from coach.piece.events import Event
from coach.piece.piece_errors import Damaged, NoSuchPiece
from coach.piece.state import State, fold
from coach.piece.storage.event_codec import bare, unpacked
from coach.piece.storage.store import Store, Summary


def the_piece(store: Store, piece_id: int) -> Summary:
    """Return the piece with that number. Raises NoSuchPiece."""
    piece = store.piece(piece_id)
    if piece is None:
        raise NoSuchPiece(f"There is no piece number {piece_id}.")
    return piece


def opened(store: Store, piece: Summary) -> tuple[State, list[bytes]]:
    """Look at all entries of a piece; give how it stands, and them as they are kept.

    Raises: See `caught_up`.
    """
    with _told(piece):
        with store.one_view():
            state, entries = store.folded(piece.id), store.entries_after(piece.id)
        if state.seq > len(entries):
            state = State()
        return reduce(fold, map(unpacked, map(bare, entries[state.seq :])), state), entries


def stands(store: Store, piece: Summary) -> State:
    """Return how a piece stands; entries that were folded before are not looked at again.

    Raises: See `caught_up`.
    """
    return caught_up(store, piece, store.folded(piece.id))[0]


def caught_up(store: Store, piece: Summary, state: State) -> tuple[State, tuple[Event, ...]]:
    """Fold what the store has after `state`; give how the piece stands now, and those events.

    Raises:
        Damaged: An entry cannot be read, or cannot have happened; told with the piece's name.
        NewerVersion: A newer coach wrote one.
    """
    with _told(piece):
        events = store.events_after(piece.id, state.seq)
        return reduce(fold, events, state), events


@contextmanager
def _told(piece: Summary) -> Iterator[None]:
    """Tell damage with the piece's name and what to do."""
    try:
        yield
    except Damaged as error:
        raise Damaged(
            f"The piece “{piece.name}” cannot be read: {error}. `coach mend` says what can be had "
            "back."
        ) from error
