"""What lets the stock follow a piece, made once there is anything at the desk to follow."""

from collections.abc import Callable

from coach.piece import State, Store
from coach.piece.events import Event
from coach.piece.sitting.stored_piece import Beside


class IfStocked:
    """Stores what goes with events at a desk that has entries; an empty one has no stock."""

    def __init__(self, store: Store, ticks: Callable[[], Beside]) -> None:
        """Set up for a piece.

        Args:
            store: The store.
            ticks: Make what lets the stock follow the piece.
        """
        self._store, self._make = store, ticks
        self._ticks: Beside | None = None

    def __call__(self, event: Event, after: State) -> None:
        """Let the stock follow an event, after which the piece stands so. Raises PieceError."""
        if self._store.has_desk():
            self._ticks = self._ticks or self._make()
            self._ticks(event, after)

    def told(self) -> str:
        """Say which stock was taken beyond what was there since this was asked last, or ""."""
        return self._ticks.told() if self._ticks else ""
