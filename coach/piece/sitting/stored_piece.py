"""The stored side of a sitting, which a slow disk may hold up.

A sitting asks for one operation at a time; its result comes back as a value, so that the sitting
can go on meanwhile and use it when it comes.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Protocol

from coach.piece.events import Aside, Counted, Event, Opened, TakenBack, TookProject
from coach.piece.piece_errors import NotOurs, OutOfTurn, PieceError, TakenOver
from coach.piece.sitting.pending_events import not_stored, put_after
from coach.piece.state import State
from coach.piece.storage.event_rows import event_of
from coach.piece.storage.read_piece import KeptPiece, catch_up
from coach.piece.storage.store import Store
from coach.piece.storage.summary import LastEntry


class Beside(Protocol):
    """Stores what goes with events beside the counting, and with counts that end or reopen a piece.

    It is called inside the transaction of the event.
    """

    def __call__(self, event: Event, after: State) -> None:
        """Store what goes with an event, given the state after it. Raises PieceError."""

    def told(self) -> str:
        """Return once a sentence about what has come of it, "" for nothing."""


@dataclass(frozen=True, slots=True)
class DiskResult:
    """The result of an operation: the state on the disk, and the new events.

    `mine` is how many of the first queued events are among them, `opened` the number that the
    sitting got with them, 0 if it was not opened with them.
    """

    state: State
    events: tuple[Event, ...]
    mine: int = 0
    opened: int = 0


class StoredPiece:
    """Reads and writes one piece; refuses to write to another copy of it.

    Before each write the piece is recognized by its id and its last entry.
    """

    def __init__(self, store: Store, kept: KeptPiece, beside: Beside | None = None) -> None:
        """Set up for a piece that was just read.

        Args:
            store: The store of pieces.
            kept: The piece, up to its last entry.
            beside: Stores what goes with events beside the counting; None for nothing.
        """
        self._store, self._beside = store, beside
        self._piece, self._state, self._last = kept.summary, kept.state, kept.last
        self._stamp: tuple[object, ...] = ()
        self._new: list[Event] = []  # stored, and not told of yet
        self._mine = self._opened = 0

    def append(self, after: State, event: Event) -> DiskResult:
        """Store an event after all that is known of.

        Args:
            after: The state after the event.
            event: The event.

        Raises:
            OutOfTurn: Another coach came first; see `look`.
            NotOurs: The piece is not as it was left.
            PieceError: It cannot be stored.
        """
        self._append([(after, event)])
        self._mine = 1
        return self._heard()

    def put(self, waiting: Sequence[Event], *, anew: bool = False) -> DiskResult:
        """Store queued events, after what others did meanwhile.

        Args:
            waiting: Events that could not be stored before.
            anew: Whether to reopen the file first, as after a fault.

        Raises:
            PieceError: See `append`; also TakenOver.
        """
        if anew:
            self._store.reopen()
        before, fresh = self._state, self._catch_up()
        while True:
            # After a fault some of the queue may be stored already and come back as if another
            # wrote it.
            left = not_stored(before, waiting[self._mine :], fresh)
            self._mine = len(waiting) - len(left)
            if not left:
                break
            happened = list(put_after(self._state, left))
            try:
                self._append(happened)
            except OutOfTurn:
                before, fresh = self._state, self._catch_up()
                if not fresh:  # going round again would never end
                    raise
                continue
            opened = [event.sitting for _, event in happened if isinstance(event, Opened)]
            self._mine, self._opened = len(waiting), max(opened, default=self._opened)
            break
        if anew:
            self._store.be_patient()
        return self._heard()

    def look(self, *, closely: bool = False) -> DiskResult | None:
        """Read what others did to the piece, None where nobody wrote anything.

        Args:
            closely: Whether to read it even if nothing shows that anybody wrote.

        Raises:
            TakenOver: Another coach has set the piece to another project.
            NotOurs: It is another copy of it.
        """
        if not closely and self._store.stamp() == self._stamp:
            return None
        self._catch_up()
        return self._heard()

    def settle(self) -> None:
        """Write the journal into the database file, so that a copy of it is complete.

        Raises:
            NotOurs: The file is not the one that was opened. All else is left for later, since what
                is stored is safe in the journal too.
        """
        try:
            self._store.settle()
        # Only this must be heard: nothing may be written any more.
        except NotOurs:
            raise
        except PieceError:
            return

    def finish(self, now_ms: int) -> None:
        """Settle, and keep a snapshot of all pieces. Raises NotOurs."""
        self.settle()
        self._store.snapshot(now_ms)

    def _heard(self) -> DiskResult:
        heard = DiskResult(self._state, tuple(self._new), self._mine, self._opened)
        self._new, self._mine, self._opened = [], 0, 0
        return heard

    def _catch_up(self) -> Sequence[Event]:
        # Before anything is read: SQLite answers from its memory even if the file was replaced.
        self._store.see_whose()
        self._stamp = self._store.stamp()  # before the reading: what comes later is read later
        with self._store.one_view():
            self._store.see_same(self._piece.id, self._last)
            self._state, rows = catch_up(self._store, self._piece, self._state)
        if rows:
            self._last = LastEntry(self._last.uid, self._state.seq, rows[-1][-1])
        events = list(map(event_of, rows))
        self._new += events
        if any(isinstance(event, TookProject) for event in events):
            raise TakenOver(
                f"‘{self._piece.name}’ was given another project file in another window. Leave, "
                "and open it again."
            )
        return events

    def _append(self, happened: Sequence[tuple[State, Event]]) -> None:
        """Store events with what goes beside them, or nothing of both."""
        beside = self._beside
        asides = [one for one in happened if _goes_on(*one)] if beside else []
        if beside is None or not asides:  # a count is one transaction of its own
            self._last = self._store.append_all(self._piece.id, self._last, happened)
        else:
            # One transaction, so that the stock can never say other than the piece.
            with self._store.atomic():
                last = self._store.append_all(self._piece.id, self._last, happened)
                for state, event in asides:
                    beside(event, state)
            self._last = last
        if happened:
            self._state = happened[-1][0]
            self._new += [event for _, event in happened]


def _goes_on(after: State, event: Event) -> bool:
    """Return whether something is to be stored beside an event."""
    if isinstance(event, TakenBack):
        return event.from_done >= after.total
    return isinstance(event, Aside) or (isinstance(event, Counted) and after.finished)
