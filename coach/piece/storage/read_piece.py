"""Reading a piece from the store: its summary, its rows, its state."""

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
    """A piece as it was read at one moment: its summary, all its rows, its state."""

    summary: Summary
    rows: tuple[Row, ...]
    state: State

    @property
    def last(self) -> LastEntry:
        """The last entry that was there."""
        return LastEntry(self.summary.uid, self.state.seq, self.rows[-1][-1])

    @property
    def events(self) -> tuple[Event, ...]:
        """All its events."""
        return tuple(map(event_of, self.rows))


def the_piece(store: Store, piece_id: int) -> Summary:
    """Return the piece with that number. Raises NoSuchPiece."""
    piece = store.piece(piece_id)
    if piece is None:
        raise NoSuchPiece(f"There is no piece number {piece_id}.")
    return piece


def read_whole_piece(store: Store, piece_id: int) -> KeptPiece:
    """Read a piece whole; what was folded before is checked and not folded again.

    Raises:
        NoSuchPiece: No piece has that number.
        Damaged, NewerVersion: See `catch_up`.
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


def read_state(store: Store, piece: Summary) -> State:
    """Return the state of a piece; entries that were folded before are not read again.

    Raises:
        PieceError: See `catch_up`.
    """
    return catch_up(store, piece, store.folded(piece.id))[0]


def catch_up(store: Store, piece: Summary, state: State) -> tuple[State, list[Row]]:
    """Fold the entries after `state`; return the state now, and those rows.

    Args:
        store: The store of pieces.
        piece: The piece.
        state: The state up to which it is folded.

    Raises:
        Damaged: An entry cannot be read, or cannot have happened; the message names the piece.
        NewerVersion: A newer coach wrote one.
    """
    with _told(piece):
        rows = store.rows_after(piece.id, state.seq)
        return reduce(fold, map(event_of, rows), state), rows


@contextmanager
def _told(piece: Summary) -> Iterator[None]:
    """Add the piece's name and what to do to the message of damage."""
    try:
        yield
    except Damaged as error:
        raise Damaged(
            f"The piece ‘{piece.name}’ cannot be read: {error}. `coach mend` says what can be "
            "recovered."
        ) from error
