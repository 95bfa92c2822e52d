"""Letting the stock follow a piece only once the desk has any entries."""

from collections.abc import Callable

from coach.piece import State, Store
from coach.piece.events import Event
from coach.piece.sitting.stored_piece import Beside


class IfStocked:
    """Stores what goes with events if the desk has entries; an empty one has no stock."""

    def __init__(self, store: Store, ticks: Callable[[], Beside]) -> None:
        """Set up for a piece.

        Args:
            store: The store.
            ticks: Make the `Beside` that updates the stock for the piece.
        """
        self._store, self._make = store, ticks
        self._ticks: Beside | None = None

    def __call__(self, event: Event, after: State) -> None:
        """Update the stock for an event, given the state after it. Raises PieceError."""
        if self._store.has_desk():
            self._ticks = self._ticks or self._make()
            self._ticks(event, after)

    def told(self) -> str:
        """Return once which stock was taken beyond what was there, or ""."""
        return self._ticks.told() if self._ticks else ""
