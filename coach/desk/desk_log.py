"""Reading and writing the desk's events in turn with other programs."""

from collections.abc import Callable, Sequence

from coach.orders.desk_events import DeskEvent
from coach.orders.desk_state import DeskState, fold_desk
from coach.piece.storage.store import Store


def read_desk(store: Store) -> DeskState:
    """Return the current state of the desk. Raises PieceError."""
    return fold_desk(store.desk_events())


class DeskReading:
    """The desk read once in a transaction; later readings only add what is new."""

    def __init__(self, store: Store) -> None:
        """Set the store to read from."""
        self._store, self._state = store, DeskState()

    def now(self) -> DeskState:
        """Return the current state of the desk. Raises PieceError."""
        self._state = fold_desk(self._store.desk_events(self._state.seq), self._state)
        return self._state


def append_to_desk(
    store: Store,
    decide: Callable[[DeskState], Sequence[DeskEvent]],
    reading: DeskReading | None = None,
) -> DeskState:
    """Decide on events by the current desk, store them, and return the desk after them.

    No other program can write between reading and writing; if `decide` raises, nothing is stored.

    Args:
        store: The store.
        decide: Return the events to store, given the desk.
        reading: The desk as read before in the same transaction, if it was.

    Raises:
        PieceError: The desk cannot be read or the events cannot be stored.
    """
    with store.atomic():
        before = reading.now() if reading else read_desk(store)
        happened = tuple(decide(before))
        store.add_to_desk(before.seq, happened)
    return fold_desk(happened, before)
