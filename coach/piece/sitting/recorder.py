"""The recorder of a sitting: it stores events before it shows them, or queues them."""

from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import partial
from typing import Final

from coach.piece.clock import Clock
from coach.piece.event_bounds import checked_event
from coach.piece.events import Counted, Event, TakenBack
from coach.piece.folding import fold
from coach.piece.piece_errors import NotOurs, OutOfTurn, PieceError, StillWriting, TakenOver
from coach.piece.sitting.disk_jobs import DiskJobs
from coach.piece.sitting.pending_events import put_after
from coach.piece.sitting.stored_piece import Beside, DiskResult, StoredPiece
from coach.piece.state import State
from coach.piece.storage.event_rows import event_of
from coach.piece.storage.read_piece import KeptPiece
from coach.piece.storage.store import Store

RETRY_MS: Final = 1000
"""How long after a fault it is tried again."""
IDLE_MS: Final = 2000
"""How long nothing is stored before the file itself is brought up to date."""


class Recorder:
    """Stores events of a piece, then shows them in `state`.

    When the disk refuses, or is slow while the bench is on screen, an event is queued in memory
    and shown, `trouble` says why, and it is stored as soon as possible. Other coaches may work on
    the same piece: their events are read first.
    """

    def __init__(
        self, store: Store, clock: Clock, kept: KeptPiece, beside: Beside | None = None
    ) -> None:
        """Set up for a piece that was just read.

        Args:
            store: The store of pieces.
            clock: Times the retries.
            kept: The piece.
            beside: Stores what must be stored together with an event, or not at all.
        """
        self._clock = clock
        self._rows = kept.rows
        self._events: list[Event] = []
        self._waiting: list[Event] = []
        self._stored = StoredPiece(store, kept, beside)
        self._stored_ms: int | None = None  # when something was stored that is not settled yet
        self._disk = DiskJobs(store)
        self._tried_ms = 0
        self._sitting = 0
        self.state = kept.state
        self.trouble: PieceError | None = None

    @property
    def number(self) -> int:
        """The number of this sitting, which its events carry."""
        return self._sitting

    @property
    def waiting(self) -> int:
        """How many counts, made or taken back, are only in memory."""
        return sum(e.count for e in self._waiting if isinstance(e, Counted | TakenBack))

    @property
    def events(self) -> tuple[Event, ...]:
        """All events of the piece, with those that could not be stored yet."""
        return (*map(event_of, self._rows), *self._events, *self._waiting)

    def hurry(self) -> None:
        """From here on wait only briefly for the disk, because keys wait for the screen.

        What takes longer goes on in the background, and counts as waiting until it is stored.
        """
        self._disk.hurry()

    def settle(self) -> None:
        """Write the journal into the database file, so that a copy of it is complete."""
        if self._stored_ms is not None and not self._waiting:
            self._stored_ms = None
            self._quietly(self._stored.settle)

    def refresh(self) -> State:
        """Read what other coaches have stored meanwhile, and settle the file while idle.

        Raises:
            TakenOver: Another coach has set the piece to another project.
        """
        self._retry()
        # Reading now would put stored events after queued ones; `_retry` brings both into order.
        if self._waiting or self.trouble or self._disk.asked:
            return self.state
        try:
            self._take(self._disk.ask(self._stored.look))
        except NotOurs as error:
            self._in_trouble(error)
        except StillWriting:
            return self.state
        if self._stored_ms is not None and self._clock.tick_ms() - self._stored_ms >= IDLE_MS:
            self.settle()
        return self.state

    def keep(self) -> bool:
        """Try to store queued events, and return whether all are stored."""
        try:
            self._take(self._disk.hear(self._disk.most_s))
        except StillWriting as error:
            self.trouble = self.trouble or error
            return False
        except PieceError as error:
            self.trouble = error
        if self._waiting or self.trouble:
            try:
                self._put()
            except PieceError as error:
                self.trouble = error
                return False
        self.trouble = None
        return True

    def keep_before_leaving(self) -> bool:
        """Do as `keep` does, but wait longer for what is being written."""
        with self._disk.at_leisure():
            return self.keep()

    def _put(self) -> None:
        """Store queued events; after a fault, reopen the file first. Raises PieceError."""
        self._tried_ms = self._clock.tick_ms()
        # A slow disk is no fault: its connection is fine, and reopening would only wait behind the
        # write.
        anew = not isinstance(self.trouble, StillWriting | None)
        self._take(self._disk.ask(partial(self._stored.put, tuple(self._waiting), anew=anew)))

    def _retry(self) -> None:
        """Read what was stored by now, and retry the queue, though not at every key."""
        if self._disk.asked:
            try:
                self._take(self._disk.hear())
            except StillWriting:
                return
            except TakenOver:
                raise
            except PieceError as error:
                self._in_trouble(error)
        in_memory = self._waiting or self.trouble
        # A write that was merely late has ended by now, so its successor need not wait for
        # RETRY_MS.
        late = isinstance(self.trouble, StillWriting)
        if in_memory and (late or self._clock.tick_ms() - self._tried_ms >= RETRY_MS):
            self.keep()

    def _record(self, happening: Callable[[], Event | None]) -> State:
        """Store an event, then show it; it is made again when another coach came first."""
        self._retry()
        while True:
            event = happening()
            if event is None:
                return self.state
            # Checked before it is shown: an invalid event would be refused again at every retry.
            checked_event(event, self.state)
            after = fold(self.state, event)
            # Events are stored in order: this one must not overtake those in the queue.
            if self._waiting or self._disk.asked:
                return self._wait(event, after)
            try:
                self._take(self._disk.ask(partial(self._stored.append, after, event)), mine=0)
            except OutOfTurn as error:
                if not self._others_came():  # going round again would never end
                    self._in_trouble(self.trouble or error)
                    return self._wait(event, after)
            except PieceError as error:
                self._in_trouble(error)
                return self._wait(event, after)
            else:
                return self.state

    def _others_came(self) -> bool:
        """Read what was stored by now, and return whether there was anything."""
        shown = self.state.seq
        try:
            self._take(self._disk.ask(partial(self._stored.look, closely=True)))
        except (NotOurs, StillWriting) as error:
            self._in_trouble(error)
            return False
        return self.state.seq > shown

    def _take(self, heard: DiskResult | None, mine: int | None = None) -> None:
        """Show what is on the disk, and the queue after it."""
        if heard is None:
            return
        # Drop what is stored by now, even if this process never saw it confirmed.
        del self._waiting[: heard.mine if mine is None else mine]
        if heard.mine:
            self._stored_ms = self._clock.tick_ms()
        if heard.opened:
            old, self._sitting = self._sitting, heard.opened
            # A sitting's number is the place of its `Opened`, known only once that is on the disk.
            self._waiting = _renumbered(self._waiting, old, heard.opened)
        self._events += heard.events
        after = list(put_after(heard.state, self._waiting))
        self.state = after[-1][0] if after else heard.state
        if not self._waiting and isinstance(self.trouble, StillWriting):
            self.trouble = None

    def _quietly(self, deed: Callable[[], None]) -> None:
        """Run an operation that no count depends on, ignoring its errors."""
        try:
            self._disk.ask(deed)
        except NotOurs as error:
            self._in_trouble(error)
        except StillWriting:
            return

    def _in_trouble(self, error: PieceError) -> None:
        self.trouble = error
        self._tried_ms = self._clock.tick_ms()

    def _wait(self, event: Event, after: State) -> State:
        """Queue and show an event that cannot be stored yet."""
        self.trouble = self.trouble or StillWriting("The disk is slow to answer.")
        self._waiting.append(event)
        self.state = after
        return after


def _renumbered(waiting: Sequence[Event], old: int, new: int) -> list[Event]:
    """Return events with one sitting's number replaced by the one it got on the disk."""
    return [replace(one, sitting=new) if one.sitting == old else one for one in waiting]
