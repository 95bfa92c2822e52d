"""A piece opened for work: every change is stored before it is shown, or waits until it can be."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from concurrent.futures import Future
from contextlib import contextmanager, suppress
from dataclasses import replace
from functools import partial, reduce
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
)
from coach.piece.judge import judged
from coach.piece.pending_events import put_after
from coach.piece.piece_errors import NotOurs, OutOfTurn, PieceError, StillWriting, TakenOver
from coach.piece.state import State, fold
from coach.piece.storage import writer
from coach.piece.storage.event_rows import event_of
from coach.piece.storage.read_piece import KeptPiece, kept_piece
from coach.piece.storage.store import Store
from coach.piece.stored_piece import Beside, Heard, StoredPiece

WorkOf: TypeAlias = Callable[[int, int], Stretch]
"""Gives the work from one count up to another."""

Deed: TypeAlias = Callable[[], Heard | None]
"""Something that is done on the disk."""

RETRY_MS: Final = 1000
"""How long after a fault it is tried again."""
IDLE_MS: Final = 2000
"""How long nothing is stored before the file itself is brought up to date."""
LEAVING_S: Final = 1.0
"""How long it is waited on leaving for what is on its way to the disk."""


class Sitting:
    """A piece opened for work: a change is on the disk before `state` shows it.

    When the disk refuses, or takes longer than a moment while a hand waits, the change is kept in
    memory and shown, `trouble` says why, and it is stored as soon as it can be. Other coaches may
    work on the same piece: whatever they did is taken in first.
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
        self.trouble: PieceError | None = None
        self._waiting: list[Event] = []
        self._tried_ms = 0
        self._stored_ms: int | None = None  # when something was stored that is not settled yet
        self._hurried = self._leaving = False  # whether a hand waits, and for what
        self._asked: Future[Heard | None] | None = None  # a deed that is not over yet
        kept = kept or kept_piece(store, piece_id)
        self._piece, self._rows = kept.summary, kept.rows
        self._stored, self._beside = StoredPiece(store, kept, beside), beside
        self._events: list[Event] = []
        self.state = kept.state
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
        """Keep what was knotted without a pattern; see `Said`.

        Where another coach came first nothing is kept, for it was said of the work before.
        """
        before = self.state.seq

        def happened() -> Said | None:
            if self.state.seq != before:
                return None
            return Said(
                at_ms=self._clock.now_ms(), tick_ms=self._clock.tick_ms(), sitting=self._sitting,
                said=said, work=work, done=done, total=total,
                standard_s={kind: round(s, 2) for kind, s in standard.standard_s.items()},
            )  # fmt: skip

        return self._record(happened)

    def pause(self) -> State:
        """Stop the clock."""
        return self._record(lambda: None if self.state.paused else self._now(Paused))

    def go_on(self) -> State:
        """Let the clock run from now, for the hands come straight from another piece."""
        return self._record(lambda: self._now(Resumed))

    def resume(self) -> State:
        """Let the clock go on; a count does so too."""
        return self._record(lambda: self._now(Resumed) if self.state.paused else None)

    def leave(self) -> State:
        """End the sitting; nothing needs saving, this only tells when, and takes a snapshot."""
        if self._has_left():
            return self.state
        with self._at_leisure():
            state = self._record(lambda: self._now(Left))
            if not self._waiting:
                self._quietly(partial(self._stored.finish, self._clock.now_ms()))
        return state

    def hurry(self) -> None:
        """Wait from here on only for a moment for the disk, for a hand waits for the screen.

        What takes longer goes on beside it, and is told as waiting until it is stored.
        """
        if not self._hurried:
            self._hurried = True
            with suppress(PieceError):  # what cannot be written will be told of
                self._store.hurry()

    def settle(self) -> None:
        """Bring the file itself up to date, so that a copy of it holds all that is stored."""
        if self._stored_ms is not None and not self._waiting:
            self._stored_ms = None
            self._quietly(self._stored.settle)

    def jot(self, kind: type[Aside], **what: Any) -> State:
        """Keep something beside the counting: a tick or a note, with the fields of its kind."""
        return self._record(
            lambda: kind(
                at_ms=self._clock.now_ms(), tick_ms=self._clock.tick_ms(), sitting=self._sitting,
                **what,
            )
        )  # fmt: skip

    def told(self, said: str) -> str:
        """Return what is said of a deed behind what must be known of the stock, which is once."""
        return " ".join(filter(None, (self._beside.told() if self._beside else "", said)))

    def as_of_now(self) -> State:
        """Return the state with the time up to this moment in it; nothing is stored."""
        return fold(self.state, self._now(Left))

    def refresh(self) -> State:
        """Take in what other coaches have done to the piece meanwhile; settle what rests.

        Raises:
            TakenOver: Another coach has given the piece another project.
        """
        self._retry()
        if self._waiting or self.trouble or self._asked:
            return self.state
        try:
            self._take(self._ask(self._stored.look))
        except NotOurs as error:
            self._in_trouble(error)
        except StillWriting:
            return self.state
        if self._stored_ms is not None and self._clock.tick_ms() - self._stored_ms >= IDLE_MS:
            self.settle()
        return self.state

    def keep(self) -> bool:
        """Try to store what waits in memory; gives whether all is stored."""
        try:
            self._hear_late(self._most_s)
        except StillWriting as error:
            self.trouble = self.trouble or error
            return False
        except PieceError as error:
            self.trouble = error
        if self._waiting or self.trouble:
            self._tried_ms = self._clock.tick_ms()
            anew = not isinstance(self.trouble, StillWriting | None)
            try:
                self._take(self._ask(partial(self._stored.put, tuple(self._waiting), anew=anew)))
            except PieceError as error:
                self.trouble = error
                return False
        self.trouble = None
        return True

    def keep_before_leaving(self) -> bool:
        """Do as `keep` does, and wait longer for what is on its way to the disk."""
        with self._at_leisure():
            return self.keep()

    def _retry(self) -> None:
        """Take in what is stored by now, and try again to store what waits, not at every key."""
        if self._asked:
            try:
                self._hear_late()
            except StillWriting:
                return
            except TakenOver:
                raise
            except PieceError as error:
                self._in_trouble(error)
        in_memory = self._waiting or self.trouble
        late = isinstance(self.trouble, StillWriting)
        if in_memory and (late or self._clock.tick_ms() - self._tried_ms >= RETRY_MS):
            self.keep()

    def _record(self, happening: Callable[[], Event | None]) -> State:
        """Store what happens, then show it; it is asked anew when another coach came first."""
        self._retry()
        while True:
            event = happening()
            if event is None:
                return self.state
            judged(event, self.state)
            after = fold(self.state, event)
            if self._waiting or self._asked:
                return self._wait(event, after)
            try:
                self._take(self._ask(partial(self._stored.append, after, event)), mine=0)
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
        """Take in what is stored by now, and return whether there was anything."""
        shown = self.state.seq
        try:
            self._take(self._ask(partial(self._stored.look, closely=True)))
        except (NotOurs, StillWriting) as error:
            self._in_trouble(error)
            return False
        return self.state.seq > shown

    def _ask(self, deed: Deed) -> Heard | None:
        """Return what comes of a deed, which is waited for as long as is waited now.

        Raises StillWriting where that is not long enough; `_hear_late` then tells what came of it.
        """
        if not self._hurried:
            return deed()
        unhurried = partial(_unhurried, self._store, deed)
        self._asked = self._store.writer.ask(unhurried if self._leaving else deed)
        return self._heard(self._most_s)

    @property
    def _most_s(self) -> float:
        return LEAVING_S if self._leaving else writer.MOMENT_S

    def _heard(self, most_s: float) -> Heard | None:
        """Return what came of the deed that was asked for. Raises StillWriting."""
        if self._asked is None:
            return None
        try:
            heard = writer.within(self._asked, most_s)
        except StillWriting:
            raise
        except BaseException:
            self._asked = None
            raise
        self._asked = None
        return heard

    def _hear_late(self, most_s: float = 0) -> None:
        """Take in what came of a deed that took long. Raises StillWriting while it goes on."""
        self._take(self._heard(most_s))

    def _take(self, heard: Heard | None, mine: int | None = None) -> None:
        """Show what is on the disk, and after it what waits."""
        if heard is None:
            return
        del self._waiting[: heard.mine if mine is None else mine]
        if heard.mine:
            self._stored_ms = self._clock.tick_ms()
        if heard.opened:
            old, self._sitting = self._sitting, heard.opened
            self._waiting = [
                replace(one, sitting=heard.opened) if one.sitting == old else one
                for one in self._waiting
            ]
        self._events += heard.events
        after = list(put_after(heard.state, self._waiting))
        self.state = after[-1][0] if after else heard.state
        if not self._waiting and isinstance(self.trouble, StillWriting):
            self.trouble = None

    def _quietly(self, deed: Callable[[], None]) -> None:
        """Do what no count depends on."""
        try:
            self._ask(deed)
        except NotOurs as error:
            self._in_trouble(error)
        except StillWriting:
            return

    @contextmanager
    def _at_leisure(self) -> Iterator[None]:
        """Wait inside as long as one may on leaving."""
        self._leaving = True
        try:
            yield
        finally:
            self._leaving = False

    def _in_trouble(self, error: PieceError) -> None:
        self.trouble = error
        self._tried_ms = self._clock.tick_ms()

    def _wait(self, event: Event, after: State) -> State:
        """Show what cannot be stored yet."""
        self.trouble = self.trouble or StillWriting("The disk is slow to answer.")
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


def _unhurried(store: Store, deed: Deed) -> Heard | None:
    """Do a deed, and wait as long for other programs as if no hand waited."""
    with store.at_leisure():
        return deed()
