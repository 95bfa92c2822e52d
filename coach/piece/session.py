"""A piece opened for work: every change is stored before it is shown, or waits until it can be."""

from collections.abc import Callable, Mapping, Sequence
from contextlib import suppress
from functools import reduce
from typing import Any, Final, TypeAlias

from coach.pace.stretch import Stretch, ties
from coach.piece.clock import Clock
from coach.piece.events import (
    Aside,
    Counted,
    Event,
    Left,
    Opened,
    Paused,
    Resumed,
    Said,
    TakenBack,
    TookProject,
)
from coach.piece.judge import judged
from coach.piece.pending_events import not_stored, put_after
from coach.piece.piece_errors import NotOurs, OutOfTurn, PieceError, TakenOver
from coach.piece.state import State, fold
from coach.piece.storage.event_rows import event_of
from coach.piece.storage.read_piece import KeptPiece, caught_up, kept_piece
from coach.piece.storage.store import LastEntry, Store

WorkOf: TypeAlias = Callable[[int, int], Stretch]
"""Gives the work from one count up to another."""

Beside: TypeAlias = Callable[[Event], None]
"""Keeps what goes with something beside the counting, in one transaction. Raises PieceError."""

RETRY_MS: Final = 1000
"""How long after a fault it is tried again."""
IDLE_MS: Final = 2000
"""How long nothing is stored before the file itself is brought up to date."""


class Sitting:
    """A piece opened for work: a change is on the disk before `state` shows it.

    When the disk refuses, the change is kept in memory and shown, `trouble` says why, and it is
    stored as soon as it can be. Other coaches may work on the same piece: whatever they did is
    taken in first. Before each change the piece is known again by its id and its last entry; in
    another copy of it nothing is stored.
    """

    def __init__(
        self,
        store: Store,
        clock: Clock,
        piece_id: int,
        knots: Sequence[str],
        work: WorkOf | None = None,
        *,
        kept: KeptPiece | None = None,
        beside: Beside | None = None,
    ) -> None:
        """Open the piece.

        Args:
            store: Where it is kept.
            clock: Tells the time of each event.
            piece_id: Its number.
            knots: The knot of each count of its plan, `""` for a count without one.
            work: Gives the standard time of counts; without it ties are taken as usual ones.
            kept: The piece, where it has just been read.
            beside: What has to be kept together with an event, or not at all.

        Raises:
            NoSuchPiece: No piece has that number.
            PieceError: It cannot be read.
        """
        self._store = store
        self._clock = clock
        self._knots = knots
        self._work = work
        self._beside = beside
        self.trouble: PieceError | None = None
        self._waiting: list[Event] = []
        self._tried_ms = 0
        self._stored_ms: int | None = None  # when something was stored that is not settled yet
        self._stamp = store.stamp()
        kept = kept or kept_piece(store, piece_id)
        self._piece, self._rows, self._last = kept.summary, kept.rows, kept.last
        self._events: list[Event] = []
        self.state = self._kept = kept.state
        self._sitting = 0
        self._record(self._opened)
        self._sitting = self.state.sitting

    @property
    def piece_id(self) -> int:
        """The piece's number."""
        return self._piece.id

    @property
    def name(self) -> str:
        """The maker's name for the piece."""
        return self._piece.name

    @property
    def number(self) -> int:
        """The number of this sitting, which its events carry."""
        return self._sitting

    def follow(self, knots: Sequence[str], work: WorkOf | None = None) -> None:
        """Go on with a plan that has changed; see `__init__`."""
        self._knots = knots
        self._work = work

    @property
    def waiting(self) -> int:
        """How many counts, made or taken back, are in memory only."""
        return sum(e.count for e in self._waiting if isinstance(e, Counted | TakenBack))

    @property
    def events(self) -> tuple[Event, ...]:
        """All that happened to the piece, with what could not be stored yet."""
        return (*map(event_of, self._rows), *self._events, *self._waiting)

    def count(self, n: int = 1) -> State:
        """Count `n` made, or as many as are left."""
        return self._record(lambda: self._counted(n))

    def take_back(self, n: int = 1) -> State:
        """Take `n` counts back, or as many as were made."""
        return self._record(lambda: self._taken_back(n))

    def say(
        self, said: str, work: Mapping[str, Any], done: int, total: int, standard: Stretch
    ) -> State:
        """Keep what was knotted without a pattern; see `Said`."""
        return self._record(
            lambda: Said(
                at_ms=self._clock.now_ms(), tick_ms=self._clock.tick_ms(), sitting=self._sitting,
                said=said, work=work, done=done, total=total,
                standard_s={kind: round(s, 2) for kind, s in standard.standard_s.items()},
            )
        )  # fmt: skip

    def pause(self) -> State:
        """Stop the clock."""
        return self._record(lambda: None if self.state.paused else self._now(Paused))

    def resume(self) -> State:
        """Let the clock go on; a count does so too."""
        return self._record(lambda: self._now(Resumed) if self.state.paused else None)

    def leave(self) -> State:
        """End the sitting; nothing needs saving, this only tells when, and takes a snapshot."""
        if self._has_left():
            return self.state
        with self._store.at_leisure():
            state = self._record(lambda: self._now(Left))
            if not self._waiting:
                self.settle()
                self._store.snapshot(self._clock.now_ms())
        return state

    def hurry(self) -> None:
        """Keep in memory what cannot be stored within a moment, for a hand waits for the screen."""
        with suppress(PieceError):  # what cannot be written will be told of
            self._store.hurry()

    def settle(self) -> None:
        """Bring the file itself up to date, so that a copy of it holds all that is stored."""
        if self._stored_ms is None or self._waiting:
            return
        self._stored_ms = None
        try:
            self._store.settle()
        except NotOurs as error:
            self._in_trouble(error)
        except PieceError:
            return  # what is stored is safe in the journal too

    def jot(self, kind: type[Aside], **what: Any) -> State:
        """Keep something beside the counting: a tick or a note, with the fields of its kind."""
        return self._record(
            lambda: kind(
                at_ms=self._clock.now_ms(), tick_ms=self._clock.tick_ms(), sitting=self._sitting,
                **what,
            )
        )  # fmt: skip

    def as_of_now(self) -> State:
        """Return the state with the time up to this moment in it; nothing is stored."""
        return fold(self.state, self._now(Left))

    def refresh(self) -> State:
        """Take in what other coaches have done to the piece meanwhile; settle what rests.

        Raises:
            TakenOver: Another coach has given the piece another project.
        """
        if self._waiting or self.trouble:
            self._retry()
            return self.state
        if self._store.stamp() != self._stamp:
            self._take_in()
        if self._stored_ms is not None and self._clock.tick_ms() - self._stored_ms >= IDLE_MS:
            self.settle()
        return self.state

    def keep(self) -> bool:
        """Try to store what waits in memory; gives whether all is stored."""
        if self._waiting or self.trouble:
            self._tried_ms = self._clock.tick_ms()
            try:
                self._store.reopen()
                self._settle()
                self._store.be_patient()
            except PieceError as error:
                self.trouble = error
                return False
        self.trouble = None
        return True

    def _retry(self) -> None:
        """Try again to store what waits, but not at every key."""
        in_memory = self._waiting or self.trouble
        if in_memory and self._clock.tick_ms() - self._tried_ms >= RETRY_MS:
            self.keep()

    def _settle(self) -> None:
        """Store what waits, after what others did meanwhile."""
        fresh = self._catch_up()
        while self._waiting:
            self._waiting = list(not_stored(self._waiting, fresh))
            happened = list(put_after(self._kept, self._waiting))
            try:
                self._append(happened)
            except OutOfTurn:
                fresh = self._catch_up()
                if not fresh:  # going round again would never end
                    raise
                continue
            self._stored_ms = self._clock.tick_ms()
            for _, event in happened:
                self._events.append(event)
                if isinstance(event, Opened):
                    self._sitting = event.sitting
            self._waiting = []
            self._kept = happened[-1][0] if happened else self._kept
        self.state = self._kept

    def _take_in(self) -> bool:
        """Show what is stored by now; where that is in another copy of the piece, only the trouble.

        Return whether anything was stored that was not shown.
        """
        shown = self.state.seq
        try:
            self._catch_up()
        except NotOurs as error:
            self._in_trouble(error)
            return False
        self.state = self._kept
        return self.state.seq > shown

    def _catch_up(self) -> Sequence[Event]:
        self._store.see_whose()
        self._stamp = self._store.stamp()  # before the reading: what comes later is read later
        with self._store.one_view():
            self._store.see_same(self.piece_id, self._last)
            self._kept, rows = caught_up(self._store, self._piece, self._kept)
        if rows:
            self._last = LastEntry(self._last.uid, self._kept.seq, rows[-1][-1])
        events = list(map(event_of, rows))
        self._events += events
        if any(isinstance(event, TookProject) for event in events):
            raise TakenOver(
                f"“{self.name}” was given another project file in another window. Leave, and open "
                "it again."
            )
        return events

    def _record(self, happening: Callable[[], Event | None]) -> State:
        """Store what happens, then show it; it is asked anew when another coach came first."""
        self._retry()
        while True:
            event = happening()
            if event is None:
                return self.state
            judged(event, self.state)
            after = fold(self.state, event)
            if self._waiting:
                return self._wait(event, after)
            try:
                self._append([(after, event)])
            except OutOfTurn as error:
                if not self._take_in():  # going round again would never end
                    self._in_trouble(self.trouble or error)
                    return self._wait(event, after)
            except PieceError as error:
                self._in_trouble(error)
                return self._wait(event, after)
            else:
                self._stored_ms = self._clock.tick_ms()
                self._events.append(event)
                self._kept = self.state = after
                return after

    def _append(self, happened: Sequence[tuple[State, Event]]) -> None:
        """Store what happened, with what goes beside it, or nothing of both."""
        beside = self._beside
        asides = [event for _, event in happened if isinstance(event, Aside)] if beside else []
        if beside is None or not asides:  # a count is one transaction of its own
            self._last = self._store.append_all(self.piece_id, self._last, happened)
            return
        with self._store.atomic():
            last = self._store.append_all(self.piece_id, self._last, happened)
            for event in asides:
                beside(event)
        self._last = last

    def _in_trouble(self, error: PieceError) -> None:
        self.trouble = error
        self._tried_ms = self._clock.tick_ms()

    def _wait(self, event: Event, after: State) -> State:
        """Show what cannot be stored yet."""
        self._waiting.append(event)
        self.state = after
        return after

    def _opened(self) -> Opened:
        return Opened(
            at_ms=self._clock.now_ms(), tick_ms=self._clock.tick_ms(), sitting=self.state.seq + 1
        )

    def _now(self, kind: type[Paused | Resumed | Left]) -> Event:
        return kind(
            at_ms=self._clock.now_ms(), tick_ms=self._clock.tick_ms(), sitting=self._sitting
        )

    def _has_left(self) -> bool:
        last = self.state.last
        return isinstance(last, Left) and last.sitting == self._sitting

    def _counted(self, n: int) -> Counted | None:
        first = self.state.done
        n = min(n, self.state.total - first)
        if n < 1:
            return None
        knots = set(self._knots[first : first + n])
        work = self._work(first, first + n) if self._work else self._usual(first, n)
        return Counted(
            at_ms=self._clock.now_ms(), tick_ms=self._clock.tick_ms(), sitting=self._sitting,
            count=n, from_done=first, knot=knots.pop() if len(knots) == 1 else "",
            standard_s={kind: round(s, 2) for kind, s in work.standard_s.items()},
        )  # fmt: skip

    def _taken_back(self, n: int) -> TakenBack | None:
        n = min(n, self.state.done)
        if n < 1:
            return None
        return TakenBack(
            at_ms=self._clock.now_ms(), tick_ms=self._clock.tick_ms(), sitting=self._sitting,
            count=n, from_done=self.state.done,
        )  # fmt: skip

    def _usual(self, first: int, n: int) -> Stretch:
        """Return the work of counts of several knots; that of one knot needs no words."""
        knots = self._knots[first : first + n]
        if len(set(knots)) == 1 and knots[0]:
            return Stretch()
        return reduce(Stretch.and_also, map(ties, knots), Stretch())
