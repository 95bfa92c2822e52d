"""The sitting: the actions of the bench as events that are stored in turn."""

from collections.abc import Callable, Mapping, Sequence
from functools import partial, reduce
from typing import Any, TypeAlias

from coach.pace.work_amount import WorkAmount, ties
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
from coach.piece.folding import fold
from coach.piece.sitting.recorder import Recorder
from coach.piece.sitting.stored_piece import Beside
from coach.piece.state import State
from coach.piece.storage.read_piece import KeptPiece, read_whole_piece
from coach.piece.storage.store import Store

WorkOf: TypeAlias = Callable[[int, int], WorkAmount]
"""Returns the work from one count up to another."""


class Sitting(Recorder):
    """A piece opened for work: a change is on the disk before `state` shows it."""

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
            store: The store of pieces.
            clock: Tells the time of each event.
            piece_id: Its number.
            knots: The knot of each count of its plan, `""` for a count without one.
            work: Return the standard time of counts; without it ties are taken as usual ones.
            kept: The piece, if it has just been read.
            beside: Stores what must be stored together with an event, or not at all.

        Raises:
            NoSuchPiece: No piece has that number.
            PieceError: It cannot be read.
        """
        kept = kept or read_whole_piece(store, piece_id)
        super().__init__(store, clock, kept, beside)
        self._knots = knots
        self._work = work
        self._piece, self._beside = kept.summary, beside
        # The event is made inside `_record`, since its number depends on what others store
        # meanwhile.
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

    def follow(self, knots: Sequence[str], work: WorkOf | None = None) -> None:
        """Go on with a plan that has changed; see `__init__`."""
        self._knots = knots
        self._work = work

    def count(self, n: int = 1) -> State:
        """Count `n` made, or as many as are left."""
        return self._record(lambda: self._counted(n))

    def take_back(self, n: int = 1) -> State:
        """Take `n` counts back, or as many as were made."""
        return self._record(lambda: self._taken_back(n))

    def say(
        self, said: str, work: Mapping[str, Any], done: int, total: int, standard: WorkAmount
    ) -> State:
        """Store what was knotted without a pattern; see `Said`.

        If another coach came first, nothing is stored: the sentence was about the work before.

        Args:
            said: The sentence.
            work: What it changed, as data.
            done: How many counts are made after it.
            total: How many counts the plan has then.
            standard: The work that it added.
        """
        before = self.state.seq

        def happened() -> Said | None:
            # `_record` asks again when another coach came first.
            if self.state.seq != before:
                return None
            return Said(
                **self._stamp(), said=said, work=work, done=done, total=total,
                standard_s=_to_keep(standard),
            )  # fmt: skip

        return self._record(happened)

    def pause(self) -> State:
        """Stop the clock."""
        return self._record(lambda: None if self.state.paused else Paused(**self._stamp()))

    def go_on(self) -> State:
        """Let the clock run from now on, because the hands come straight from another piece."""
        return self._record(lambda: Resumed(**self._stamp()))

    def resume(self) -> State:
        """Let the clock go on; a count does so too."""
        return self._record(lambda: Resumed(**self._stamp()) if self.state.paused else None)

    def leave(self) -> State:
        """End the sitting and take a snapshot; everything is stored already."""
        if self._has_left():
            return self.state
        with self._disk.at_leisure():
            state = self._record(lambda: Left(**self._stamp()))
            if not self._waiting:
                self._quietly(partial(self._stored.finish, self._clock.now_ms()))
        return state

    def jot(self, kind: type[Aside], **what: Any) -> State:
        """Store an event beside the counting: a tick or a note, with the fields of its class."""
        return self._record(lambda: kind(**self._stamp(), **what))

    def told(self, said: str) -> str:
        """Return a message, preceded once by any warning about the stock."""
        return " ".join(filter(None, (self._beside.told() if self._beside else "", said)))

    def as_of_now(self) -> State:
        """Return the state with the time up to this moment in it; nothing is stored."""
        return fold(self.state, Left(**self._stamp()))

    def _stamp(self) -> dict[str, int]:
        """Return the fields for the time of an event and its sitting."""
        return {
            "at_ms": self._clock.now_ms(),
            "tick_ms": self._clock.tick_ms(),
            "sitting": self._sitting,
        }

    def _opened(self) -> Event:
        now_ms, tick_ms = self._clock.now_ms(), self._clock.tick_ms()
        return Opened(at_ms=now_ms, tick_ms=tick_ms, sitting=self.state.seq + 1)

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
            **self._stamp(), count=n, from_done=first,
            knot=knots.pop() if len(knots) == 1 else "", standard_s=_to_keep(work),
        )  # fmt: skip

    def _taken_back(self, n: int) -> TakenBack | None:
        n = min(n, self.state.done)
        return TakenBack(**self._stamp(), count=n, from_done=self.state.done) if n > 0 else None

    def _usual(self, first: int, n: int) -> WorkAmount:
        """Return the work of counts of several knots, empty for a single knot."""
        knots = self._knots[first : first + n]
        if len(set(knots)) == 1 and knots[0]:
            return WorkAmount()
        return reduce(WorkAmount.and_also, map(ties, knots), WorkAmount())


def _to_keep(work: WorkAmount) -> dict[str, float]:
    """Return standard seconds by kind as they are stored, to the hundredth."""
    return {kind: round(s, 2) for kind, s in work.standard_s.items()}
