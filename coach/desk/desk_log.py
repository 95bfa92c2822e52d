"""The desk as it is kept: read whole, and written to in its turn."""

from collections.abc import Callable, Sequence

from coach.orders.desk_events import DeskEvent
from coach.orders.desk_state import DeskState, folded
from coach.piece.storage.store import Store


def desk_now(store: Store) -> DeskState:
    """Return how the desk stands. Raises PieceError."""
    return folded(store.desk_events())


class DeskReading:
    """The desk read once inside a transaction, and from then on only what is new of it."""

    def __init__(self, store: Store) -> None:
        """Take what it is kept in."""
        self._store, self._state = store, DeskState()

    def now(self) -> DeskState:
        """Return how the desk stands. Raises PieceError."""
        self._state = folded(self._store.desk_events(self._state.seq), self._state)
        return self._state


def at_desk(
    store: Store,
    decide: Callable[[DeskState], Sequence[DeskEvent]],
    reading: DeskReading | None = None,
) -> DeskState:
    """Keep what is decided on the desk as it stands in this moment, and return it as it is then.

    No other coach comes between the reading and the writing; whatever `decide` raises, nothing is
    kept.

    Args:
        store: Where it is kept.
        decide: Tells what happens, by how the desk stands.
        reading: The desk as it was read before in the same transaction, if it was.

    Raises:
        PieceError: It cannot be read or kept.
    """
    with store.atomic():
        before = reading.now() if reading else desk_now(store)
        happened = tuple(decide(before))
        store.add_to_desk(before.seq, happened)
    return folded(happened, before)
