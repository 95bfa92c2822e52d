"""A piece on the bench: what the keys do to it, and all that a screen shows of it."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from typing import Final, Literal

from coach.bench.keys import BounceGuard, Keys
from coach.bench.times import clock_span, minutes, time_span, when
from coach.pace.estimate import Range
from coach.piece import Clock, PieceError, Sitting
from coach.piece.forecast import Forecast
from coach.plan.model import Plan
from coach.plan.remaining import CordLeft, StrandLeft
from coach.plan.words import sentence
from coach.plan.words_plain import step_line, where

Ring = Literal["", "step", "repeat"]
_SECOND_MS: Final = 1000


@dataclass(frozen=True, slots=True)
class View:
    """All that a screen shows of a piece, in plain values; texts are as they came."""

    title: str
    done: int
    total: int
    number: int  # the tie about to be made, within its step, from 1
    of: int
    sentence: str
    where: tuple[str, ...]
    next: str
    notes: tuple[str, ...]
    message: str
    time: tuple[str, ...]
    cords: tuple[StrandLeft, ...]
    paused: bool

    @property
    def finished(self) -> bool:
        """Whether all is made."""
        return self.done >= self.total


class Work:
    """Joins the plan, the sitting and the clock; knows nothing of screens."""

    def __init__(
        self, plan: Plan, sitting: Sitting, clock: Clock, keys: Keys, left_ms: int | None = None
    ) -> None:
        """Take up a piece.

        Args:
            plan: Its plan.
            sitting: The piece, opened.
            clock: Tells the time.
            keys: The keys as they are set.
            left_ms: When it was left before, UTC epoch milliseconds, if it ever was.
        """
        self.plan = plan
        self.sitting = sitting
        self.keys = keys
        self._clock = clock
        self._guard = BounceGuard(clock.tick_ms)
        self._cords = CordLeft(plan)
        self._forecast = Forecast(plan)
        self.message = self._greeting(left_ms)
        self._deeds: dict[str, Callable[[], Ring]] = {
            "count": self._count,
            "take_back": self._take_back,
            "rest": self._rest,
            "restart": self._restart,
            "pause": self._pause,
        }

    @property
    def done(self) -> int:
        """How many counts are made; never more than the plan has."""
        return min(self.sitting.state.done, self.plan.total)

    def act(self, action: str) -> Ring:
        """Do what a key asks and give what is to be heard. What cannot be kept is told."""
        self.message = ""
        try:
            return self._deeds[action]()
        except PieceError as error:
            self.message = f"Not counted: {error}"
            return ""

    def leave(self) -> None:
        """End the sitting; a piece that cannot be written has lost nothing but the time of this."""
        try:
            self.sitting.leave()
        except PieceError as error:
            self.message = str(error)

    def _count(self) -> Ring:
        if not self._guard.is_new():
            self.message = "Too quick for a new press: taken as the same one."
            return ""
        if self.done >= self.plan.total:
            self.message = "All is made; there is nothing left to count."
            return ""
        return self._made(1)

    def _made(self, n: int) -> Ring:
        before = self.done
        self.sitting.count(n)
        return self._heard(before)

    def _rest(self) -> Ring:
        step = self.plan.step_at(self.done)
        if step is None:
            return ""
        n = step.end - self.done
        ring = self._made(n)
        self.message = f"Counted the rest of the step: {n}."
        return ring

    def _take_back(self) -> Ring:
        if not self.done:
            self.message = "Nothing is made yet."
            return ""
        self.sitting.take_back(1)
        self.message = "Took one back."
        return ""

    def _restart(self) -> Ring:
        if not self.done:
            self.message = "Nothing is made yet."
            return ""
        made = self.plan.steps[self.plan.counts[self.done - 1].step]
        n = self.done - made.first
        self.sitting.take_back(n)
        self.message = f"Back at the start of the step: {n} to unpick."
        return ""

    def _pause(self) -> Ring:
        if self.sitting.state.paused:
            self.sitting.resume()
            self.message = "The clock goes on."
        else:
            self.sitting.pause()
        return ""

    def _heard(self, before: int) -> Ring:
        """Give what has come to its end with the counts since `before`."""
        if self.done <= before:
            return ""
        old = self.plan.steps[self.plan.counts[self.done - 1].step]
        if self.done < old.end:
            return ""
        now = self.plan.step_at(self.done)
        trail = {(i, v.name, v.turn) for i, v in enumerate(now.trail)} if now else set()
        repeats = [(i, v.name, v.turn) for i, v in enumerate(old.trail) if v.turns > 1]
        if any(visit not in trail for visit in repeats):
            return "repeat"
        return "step" if old.counts > 1 else ""

    def _greeting(self, left_ms: int | None) -> str:
        if not self.done:
            return ""
        last = step_line(self.plan, self.plan.counts[self.done - 1].step)
        left = f"Left {when(self._local(left_ms))} after" if left_ms else "After"
        return f"{left} tie {self.done} of {self.plan.total}; last made: {last}."

    def view(self) -> View:
        """Give all that is to be seen now."""
        done, plan = self.done, self.plan
        step = plan.step_at(done)
        return View(
            title=self.sitting.name,
            done=done,
            total=plan.total,
            number=done - step.first + 1 if step else 0,
            of=step.counts if step else 0,
            sentence=sentence(plan, done),
            where=where(plan, done) if step else (),
            next=self._next(),
            notes=tuple(filter(None, (step.source.about.note,))) if step else (),
            message=self.message,
            time=self._time(),
            cords=self._cords.at(done),
            paused=self.sitting.state.paused,
        )

    def _next(self) -> str:
        step = self.plan.step_at(self.done)
        if step is None:
            return ""
        if step.index + 1 == len(self.plan.steps):
            return "the end of the piece"
        return step_line(self.plan, step.index + 1)

    def _time(self) -> tuple[str, ...]:
        """Give the time of this sitting, of the piece, what is left and when that will be."""
        state = self.sitting.state
        spent = (f"sitting {minutes(state.sitting_s)}", f"piece {minutes(state.worked_s)}")
        if self.done >= self.plan.total:
            return spent
        left: Range = self._forecast.left(state.paces, self.done)
        now_s = self._clock.now_ms() / _SECOND_MS
        first, last = (
            datetime.fromtimestamp(now_s + s).astimezone() for s in (left.low_s, left.high_s)
        )
        return (*spent, f"left {time_span(left.low_s, left.high_s)}", clock_span(first, last))

    def _local(self, at_ms: int) -> datetime:
        return datetime.fromtimestamp(at_ms / _SECOND_MS).astimezone()
