"""A piece on the bench: what the keys do to it, and all that a screen shows of it."""

from collections.abc import Callable, Sequence
from functools import cached_property
from typing import TYPE_CHECKING, Final, Literal

from coach.pace.estimate import Range
from coach.piece import Clock, Note, PieceError, Sitting
from coach.piece.events import Left, Measured
from coach.piece.reports.forecast import Forecast
from coach.plan.plan_model import Plan, PlannedStep
from coach.plan.standing import order_at
from coach.plan.wording.sentences import sentence
from coach.plan.wording.step_phrases import step_line, where
from coach.project.model import Do
from coach.session.annotations import Asides
from coach.session.break_reminder import Rest
from coach.session.count_mode import Tally
from coach.session.keymap import BounceGuard, Keys
from coach.session.ports import OnBench
from coach.session.quick_settings import Choices
from coach.session.services import Aids
from coach.session.step_sign import sign_for
from coach.session.time_format import clock_span, in_units, local, minutes, time_span
from coach.session.unsaved import Watch
from coach.session.view_model import CORDS, CORDS_OVER, View
from coach.settings.settings import Settings

if TYPE_CHECKING:
    from coach.piece.learning.estimates import Known
    from coach.plan.cord.cord_left import CordLeft, StrandLeft
    from coach.session.deviations import Otherwise

Ring = Literal["", "step", "repeat"]
_SECOND_MS: Final = 1000


class Work:
    """Joins the plan, the sitting and the clock; knows nothing of screens."""

    def __init__(
        self,
        plan: Plan,
        sitting: Sitting,
        clock: Clock,
        keys: Keys,
        *,
        earlier: Sequence[Note] = (),
        aids: Aids | None = None,
        now: Plan | None = None,
    ) -> None:
        """Take up a piece.

        Args:
            plan: The plan that it was begun with.
            sitting: The piece, opened.
            clock: Tells the time.
            keys: The keys as they are set.
            earlier: The notes of earlier pieces of the same project.
            aids: Settings and what else helps along; without them everything is as it comes.
            now: The plan that it follows by now, if that is known.
        """
        self.aids = aids or Aids()
        self._base, self._earlier = plan, earlier
        self._followed = sitting.state.happenings
        self._now = now if now is not None else self._follow()
        self.sitting = sitting
        self.plan = plan = self._likely()
        self.keys = keys
        self._clock = clock
        self._guard = BounceGuard(self.settings.bounce_ms)
        self._tally = Tally(plan, sitting, self.aids.kept, self.aids.passes)
        self._hands = Rest(self.settings.rest_after_min)
        self._choices = Choices(self.aids.kept).by_action(self._knot)
        self._forecast = Forecast(plan)
        sitting.follow([count.knot for count in plan.counts], self._forecast.work)
        self.asides = Asides(plan, sitting, earlier)
        self._watch = Watch(sitting)
        self.message = ""
        self.unspoken = ""
        self._deeds: dict[str, Callable[[], Ring]] = {
            "count": self._count,
            "take_back": self._take_back,
            "rest": self._rest,
            "restart": self._restart,
            "pause": self._pause,
            "mark": self._mark,
        }

    @classmethod
    def on(cls, on_bench: OnBench, clock: Clock, keys: Keys, aids: Aids | None = None) -> "Work":
        """Take up a piece as it was opened, with all that is known of it by then."""
        return cls(
            on_bench.plan, on_bench.sitting, clock, keys,
            earlier=on_bench.earlier, aids=aids, now=on_bench.now,
        )  # fmt: skip

    @cached_property
    def known(self) -> "Known":
        """All that is known of the piece; it measures the plan some times over, so not at once."""
        from coach.piece.learning.estimates import known

        return known(self._base, self._followed, self.sitting.state.beliefs, self._now)

    @cached_property
    def _cords(self) -> "CordLeft":
        return self.known.cord_left()

    def _likely(self) -> Plan:
        """Return the plan that the piece follows, in the hands that its measures show."""
        if any(isinstance(happening, Measured) for happening in self._followed):
            return self.known.plan
        return self._now

    def _follow(self) -> Plan:
        """Return the plan that the piece follows, measures left out. Raises CannotFollow."""
        if not self._followed:
            return self._base
        from coach.piece.changes.effective_plan import follow

        return follow(self._base, self._followed)

    @property
    def done(self) -> int:
        """How many counts are made; never more than the plan has."""
        return min(self.sitting.state.done, self.plan.total)

    @property
    def settings(self) -> Settings:
        """The settings as they are now."""
        return self.aids.kept.now

    def action(self, key: str) -> str | None:
        """Return what a key asks for. Where any key counts, only escape and taking back do not."""
        action = self.keys.action(key)
        if not self.settings.any_key or action == "take_back":
            return action
        return "any_key" if key == "escape" else "count"

    @property
    def stale(self) -> bool:
        """Whether something has happened since that the plan has to follow; see `anew`."""
        return self.sitting.state.happenings != self._followed

    def anew(self) -> "Work":
        """Return the same piece with the plan that follows all that has happened."""
        work = Work(
            self._base, self.sitting, self._clock, self.keys,
            earlier=self._earlier, aids=self.aids,
        )  # fmt: skip
        work.message, work.unspoken = self.message, self.unspoken
        work._hands, work._guard = self._hands, self._guard
        return work

    def otherwise(self) -> "Otherwise":
        """Return what takes in that the work differs from the plan."""
        from coach.piece.changes.repeat_search import Course
        from coach.session.deviations import Otherwise

        course = Course(self._base, self._followed, self.done)
        return Otherwise(self.known, course, lambda kind, what: self.sitting.jot(kind, **what))

    def act(self, action: str, read_s: float | None = None) -> Ring:
        """Do what a key asks and give what is to be heard. What cannot be kept is told.

        Args:
            action: What it asks for.
            read_s: When it was read, in monotonic seconds; now, where that is not known.
        """
        self.message = self.unspoken = ""
        if action == "count" and self._bounces(read_s):
            self.message = "Too quick for a new press: taken as the same one."
            return ""
        if action in self._choices:
            self.message = self._choices[action]()
            return ""
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

    def keep(self, deed: Callable[[], object], told: str = "") -> None:
        """Do something beside the counting, and tell what came of it."""
        self.message = told
        try:
            deed()
        except PieceError as error:
            self.message = f"Not kept: {error}"

    def go_to(self, done: int) -> None:
        """Set the count to a place that was found on the work."""
        way = min(done, self.plan.total) - self.done
        if way > 0:
            self.keep(lambda: self.sitting.count(way), f"Counted {way} as made.")
        elif way < 0:
            told = self.unpicking(self.done + way)
            self.keep(lambda: self.sitting.take_back(-way), f"Gone back: {told}.")

    def unpicking(self, to: int) -> str:
        """Say what it means to go back to an earlier count."""
        from coach.session.navigation import unpicking

        return in_units(unpicking(self.plan, self.done, to), self.settings.units)

    def confirm(self) -> None:
        """Take up the work where it was left; the key that says so is no count."""
        self.message = ""

    def came_before(self, key: str, read_ms: int, now: str) -> None:
        """Take note of the key that was read before this one, on whatever screen it was taken.

        One that chatters closes a page, and the same press must not be counted here as well.
        Where any key counts, other keys next to it are the same press too.
        """
        same = key == now or self.settings.any_key
        self._guard.after(read_ms if same and self.action(key) == "count" else None)

    def _bounces(self, read_s: float | None) -> bool:
        """Whether a key that counts comes too soon after the last one that was seen."""
        clock = self._clock
        return not self._guard.is_new(clock.tick_ms() if read_s is None else clock.tick_at(read_s))

    def refresh(self) -> bool:
        """Take in what was done on another screen; give whether there was something."""
        before = self.sitting.state.seq, str(self.sitting.trouble), self.message
        try:
            self.sitting.refresh()
        except PieceError as error:
            self.message = str(error)
        return before != (self.sitting.state.seq, str(self.sitting.trouble), self.message)

    def _mark(self) -> Ring:
        words = f"Marked. {self.keys.shown('note')} writes the words, now or later."
        self.keep(lambda: self.asides.note(self.done, ""), words)
        return ""

    def _count(self) -> Ring:
        if self.done >= self.plan.total:
            self.message = "All is made; there is nothing left to count."
            return ""
        if self._tally.by(self.done) == "step":
            return self._rest()
        if self._tally.pass_made(self.done):
            return ""
        return self._made(1)

    def _made(self, n: int) -> Ring:
        before = self.done
        self.sitting.count(n)
        self._tally.put(self.done, 0)
        self._hands.count(self._clock.tick_ms(), self.sitting.state.sitting_s)
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
        passes = self._tally.made(self.done)
        if passes:
            self._tally.put(self.done, passes - 1)
            self.message = "Took one pass back."
            return ""
        if not self.done:
            self.message = "Nothing is made yet."
            return ""
        if self._tally.by(self.done - 1) == "step":
            return self._restart()
        self.sitting.take_back(1)
        self._tally.open_again(self.done)
        self.message = "Took one back."
        return ""

    def _restart(self) -> Ring:
        if not self.done:
            self.message = "Nothing is made yet."
            return ""
        made = self.plan.step_of(self.done - 1)
        told = self.unpicking(made.first)
        self.sitting.take_back(self.done - made.first)
        self.message = f"At the step's start: {told}."
        return ""

    def _pause(self) -> Ring:
        if self.sitting.state.paused:
            self.sitting.resume()
            self.message = "The clock goes on."
        else:
            self.sitting.pause()
        return ""

    def _heard(self, before: int) -> Ring:
        """Return what has come to its end with the counts since `before`."""
        if self.done <= before:
            return ""
        old = self.plan.step_of(self.done - 1)
        if self.done < old.end:
            return ""
        now = self.plan.step_at(self.done)
        trail = {(i, v.name, v.turn) for i, v in enumerate(now.trail)} if now else set()
        repeats = [(i, v.name, v.turn) for i, v in enumerate(old.trail) if v.turns > 1]
        if any(visit not in trail for visit in repeats):
            return "repeat"
        return "step" if old.counts > 1 else ""

    def view(self, *, first: bool = False) -> View:
        """Return all that is to be seen now; `first` leaves out the time, and cord that reaches."""
        done, plan = self.done, self.plan
        step, order = plan.step_at(done), order_at(plan, done)
        most = 0 if first else CORDS if step else CORDS_OVER
        return View(
            title=self.sitting.name,
            done=done,
            total=plan.total,
            number=done - step.first + 1 if step else 0,
            of=step.counts if step else 0,
            sentence=self.sentence_at(done),
            where=where(plan, done) if step else (),
            next=self._next(),
            notes=(*self._quiet(), *self._notes(step)),
            message=self._watch.line() or self.message,
            time=() if first else self._time(),
            cords=self._cords.hanging(done, order, most),
            paused=self._stopped(),
            order=order,
            short=self._cords.short(done, order),
            sign=sign_for(plan, step) if step else "",
            offer=self.asides.offer(done, self.keys.shown("before")),
            noted=self.asides.here(done),
            passing=self._tally.passing(done),
            units=self.settings.units,
            any_key=self.settings.any_key,
            unspoken=self.unspoken,
        )

    def cords(self) -> tuple["StrandLeft", ...]:
        """Return the cord left on every strand that hangs, those at hand first, then the worst."""
        return self._cords.hanging(self.done, self.order())

    def order(self) -> tuple[int, ...]:
        """Return the strands from the left, as they hang now."""
        return order_at(self.plan, self.done)

    def _knot(self) -> str:
        """Return the knot at hand, "" where there is none."""
        return self.plan.counts[self.done].knot if self.done < self.plan.total else ""

    def sentence_at(self, done: int) -> str:
        """Return what to do in the chosen units; the maker's own words stay as they are."""
        step = self.plan.step_at(done)
        return self._in_units(sentence(self.plan, done), step)

    def line_of(self, index: int) -> str:
        """Return a step in one short line, its lengths like those of `sentence_at`."""
        return self._in_units(step_line(self.plan, index), self.plan.steps[index])

    def _in_units(self, said: str, step: PlannedStep | None) -> str:
        own = step is None or isinstance(step.source, Do)
        return said if own else in_units(said, self.settings.units)

    def _quiet(self) -> tuple[str, ...]:
        """Return what is worth knowing besides; what is wrong with the settings until a count."""
        told = "" if self._hands.begun else self.aids.told
        rest = self._hands.proposal(self.sitting.state.sitting_s)
        return tuple(filter(None, (told, rest)))

    def _notes(self, step: PlannedStep | None) -> tuple[str, ...]:
        """Return the file's note for the step at hand."""
        return (step.source.about.note,) if step and step.source.about.note else ()

    def _stopped(self) -> bool:
        """Whether the maker stopped the clock; another screen that is left stops nothing here."""
        last = self.sitting.state.last
        return self.sitting.state.paused and not (
            isinstance(last, Left) and last.sitting != self.sitting.number
        )

    def _next(self) -> str:
        step = self.plan.step_at(self.done)
        if step is None:
            return ""
        if step.index + 1 == len(self.plan.steps):
            return "the end of the piece"
        return self.line_of(step.index + 1)

    def _time(self) -> tuple[str, ...]:
        """Return the time of this sitting, of the piece, what is left and when that will be."""
        state = self.sitting.state
        spent = (f"sitting {minutes(state.sitting_s)}", f"piece {minutes(state.worked_s)}")
        if self.done >= self.plan.total:
            return spent
        left: Range = self._forecast.left(state.paces, self.done)
        now_ms = self._clock.now_ms()
        first, last = (
            local(now_ms + round(_SECOND_MS * after_s)) for after_s in (left.low_s, left.high_s)
        )
        return (*spent, f"left {time_span(left.low_s, left.high_s)}", clock_span(first, last))
