"""A piece as it lies on the disk: the side of a sitting that a slow disk holds up.

A sitting asks for one deed at a time; what came of it goes back as a value, so that the sitting
may go on meanwhile and take it in when it comes.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Protocol

from coach.piece.events import Aside, Counted, Event, Opened, TakenBack, TookProject
from coach.piece.piece_errors import NotOurs, OutOfTurn, PieceError, TakenOver
from coach.piece.sitting.pending_events import not_stored, put_after
from coach.piece.state import State
from coach.piece.storage.event_rows import event_of
from coach.piece.storage.read_piece import KeptPiece, caught_up
from coach.piece.storage.store import Store
from coach.piece.storage.summary import LastEntry


class Beside(Protocol):
    """Keeps what goes with events beside the counting, and with counts that end or reopen a piece.

    It is asked inside the transaction of the event.
    """

    def __call__(self, event: Event, after: State) -> None:
        """Keep what goes with an event, after which the piece stands so. Raises PieceError."""

    def told(self) -> str:
        """Return in a sentence what has come of it and must be known, once; "" for nothing."""


@dataclass(frozen=True, slots=True)
class Heard:
    """What came of a deed: how the piece stands on the disk, and what is new in it.

    `mine` is how many of the first events that waited are among it, `opened` the number that the
    sitting got with them, 0 if it was not opened with them.
    """

    state: State
    events: tuple[Event, ...]
    mine: int = 0
    opened: int = 0


class StoredPiece:
    """Reads and writes one piece; in another copy of it nothing is written.

    Before each writing the piece is known again by its id and its last entry.
    """

    def __init__(self, store: Store, kept: KeptPiece, beside: Beside | None = None) -> None:
        """Take the piece as it was just read.

        Args:
            store: Where it is kept.
            kept: The piece, up to its last entry.
            beside: Keeps what goes with events beside the counting; None where nothing does.
        """
        self._store, self._beside = store, beside
        self._piece, self._state, self._last = kept.summary, kept.state, kept.last
        self._stamp: tuple[object, ...] = ()
        self._new: list[Event] = []  # stored, and not told of yet
        self._mine = self._opened = 0

    def append(self, after: State, event: Event) -> Heard:
        """Store what happened behind all that is known of.

        Raises:
            OutOfTurn: Another coach came first; see `look`.
            NotOurs: The piece is not as it was left.
            PieceError: It cannot be stored.
        """
        self._append([(after, event)])
        self._mine = 1
        return self._heard()

    def put(self, waiting: Sequence[Event], *, anew: bool = False) -> Heard:
        """Store what waits, after what others did meanwhile.

        Args:
            waiting: What could not be stored before, without what was told of as stored.
            anew: Whether the file is opened anew first, as after a fault.

        Raises: See `append`, and TakenOver.
        """
        if anew:
            self._store.reopen()
        before, fresh = self._state, self._catch_up()
        while True:
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

    def look(self, *, closely: bool = False) -> Heard | None:
        """Read what others did to the piece, None where nobody wrote anything.

        Args:
            closely: Whether it is read though nothing tells that anybody wrote.

        Raises:
            TakenOver: Another coach has given the piece another project.
            NotOurs: It is another copy of it.
        """
        if not closely and self._store.stamp() == self._stamp:
            return None
        self._catch_up()
        return self._heard()

    def settle(self) -> None:
        """Bring the file itself up to date, so that a copy of it holds all that is stored.

        Raises NotOurs; what is stored is safe in the journal too, so all else is left for later.
        """
        try:
            self._store.settle()
        except NotOurs:
            raise
        except PieceError:
            return

    def finish(self, now_ms: int) -> None:
        """Settle, and keep a snapshot of all pieces. Raises NotOurs."""
        self.settle()
        self._store.snapshot(now_ms)

    def _heard(self) -> Heard:
        heard = Heard(self._state, tuple(self._new), self._mine, self._opened)
        self._new, self._mine, self._opened = [], 0, 0
        return heard

    def _catch_up(self) -> Sequence[Event]:
        self._store.see_whose()
        self._stamp = self._store.stamp()  # before the reading: what comes later is read later
        with self._store.one_view():
            self._store.see_same(self._piece.id, self._last)
            self._state, rows = caught_up(self._store, self._piece, self._state)
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
        """Store what happened, with what goes beside it, or nothing of both."""
        beside = self._beside
        asides = [one for one in happened if _goes_on(*one)] if beside else []
        if beside is None or not asides:  # a count is one transaction of its own
            self._last = self._store.append_all(self._piece.id, self._last, happened)
        else:
            with self._store.atomic():
                last = self._store.append_all(self._piece.id, self._last, happened)
                for state, event in asides:
                    beside(event, state)
            self._last = last
        if happened:
            self._state = happened[-1][0]
            self._new += [event for _, event in happened]


def _goes_on(after: State, event: Event) -> bool:
    """Return whether something is to be kept beside an event."""
    if isinstance(event, TakenBack):
        return event.from_done >= after.total
    return isinstance(event, Aside) or (isinstance(event, Counted) and after.finished)
