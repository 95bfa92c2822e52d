"""The desk as it is kept: read whole, and written to in its turn."""

from collections.abc import Callable, Sequence

from coach.orders.desk_events import DeskEvent
from coach.orders.desk_state import DeskState, folded
from coach.piece.storage.store import Store


def desk_now(store: Store) -> DeskState:
    """Return how the desk stands. Raises PieceError."""
    return folded(store.desk_events())


def at_desk(store: Store, decide: Callable[[DeskState], Sequence[DeskEvent]]) -> DeskState:
    """Keep what is decided on the desk as it stands in this moment, and return it as it is then.

    No other coach comes between the reading and the writing; whatever `decide` raises, nothing is
    kept.

    Args:
        store: Where it is kept.
        decide: Tells what happens, by how the desk stands.

    Raises:
        PieceError: It cannot be read or kept.
    """
    with store.atomic():
        before = desk_now(store)
        happened = tuple(decide(before))
        store.add_to_desk(before.seq, happened)
    return folded(happened, before)
