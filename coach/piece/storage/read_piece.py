"""A piece read from the store: its line in the list, its events, how they leave it."""

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from functools import reduce

from coach.piece.events import Event
from coach.piece.folding import fold
from coach.piece.piece_errors import Damaged, NoSuchPiece
from coach.piece.state import State
from coach.piece.storage.event_rows import Row, event_of
from coach.piece.storage.store import Store
from coach.piece.storage.summary import LastEntry, Summary


@dataclass(frozen=True, slots=True)
class KeptPiece:
    """A piece as it was read at one moment: its line in the list, all its rows, its state."""

    summary: Summary
    rows: tuple[Row, ...]
    state: State

    @property
    def last(self) -> LastEntry:
        """The last entry that was there."""
        return LastEntry(self.summary.uid, self.state.seq, self.rows[-1][-1])

    @property
    def events(self) -> tuple[Event, ...]:
        """All that happened to it."""
        return tuple(map(event_of, self.rows))


def the_piece(store: Store, piece_id: int) -> Summary:
    """Return the piece with that number. Raises NoSuchPiece."""
    piece = store.piece(piece_id)
    if piece is None:
        raise NoSuchPiece(f"There is no piece number {piece_id}.")
    return piece


def kept_piece(store: Store, piece_id: int) -> KeptPiece:
    """Read a piece whole; what was folded before is looked at and not folded again.

    Raises:
        NoSuchPiece: No piece has that number.
        Damaged, NewerVersion: See `caught_up`.
    """
    piece = the_piece(store, piece_id)
    with _told(piece):
        with store.one_view():
            state, rows = store.folded(piece_id), store.rows_after(piece_id)
        if not rows:
            raise Damaged("it has no beginning")
        if state.seq > len(rows):
            state = State()
        state = reduce(fold, map(event_of, rows[state.seq :]), state)
        return KeptPiece(piece, tuple(rows), state)


def stands(store: Store, piece: Summary) -> State:
    """Return how a piece stands; entries that were folded before are not looked at again.

    Raises: See `caught_up`.
    """
    return caught_up(store, piece, store.folded(piece.id))[0]


def caught_up(store: Store, piece: Summary, state: State) -> tuple[State, list[Row]]:
    """Fold what the store has after `state`; give how the piece stands now, and those rows.

    Raises:
        Damaged: An entry cannot be read, or cannot have happened; told with the piece's name.
        NewerVersion: A newer coach wrote one.
    """
    with _told(piece):
        rows = store.rows_after(piece.id, state.seq)
        return reduce(fold, map(event_of, rows), state), rows


@contextmanager
def _told(piece: Summary) -> Iterator[None]:
    """Tell damage with the piece's name and what to do."""
    try:
        yield
    except Damaged as error:
        raise Damaged(
            f"The piece ‘{piece.name}’ cannot be read: {error}. `coach mend` says what can be "
            "recovered."
        ) from error
