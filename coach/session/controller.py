"""A piece on the bench: what the keys do to it, and all that a screen shows of it."""

from collections.abc import Callable, Sequence

from coach.piece import Clock, Note, PieceError, Sitting
from coach.piece.learning.estimates import Known
from coach.piece.reports.forecast import Forecast
from coach.plan.cord.cord_left import StrandLeft
from coach.plan.plan_model import Plan, PlannedStep
from coach.plan.standing import order_at
from coach.plan.wording.step_phrases import where
from coach.session.annotations import Asides
from coach.session.break_reminder import Rest
from coach.session.counting import Counting, Outcome, Ring
from coach.session.deviations import Otherwise
from coach.session.following import Following
from coach.session.keymap import BounceGuard, Keys
from coach.session.ports import Aids
from coach.session.quick_settings import Choices
from coach.session.step_words import StepWords, sign_for
from coach.session.time_format import time_told
from coach.session.unsaved import Watch
from coach.session.view_model import CORDS, CORDS_OVER, View
from coach.settings.settings import Settings


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
        guard: BounceGuard | None = None,
        rest: Rest | None = None,
    ) -> None:
        """Take up a piece.

        Args:
            plan: The plan that it was begun with.
            sitting: The piece, opened.
            clock: Tells the time.
            keys: The keys as they are set.
            earlier: The notes of earlier pieces of the same project.
            aids: Settings and what else helps along; without them everything is as it comes.
            guard: Knows the last press, where the piece was worked on before its plan changed.
            rest: Knows how long the hands have worked, where the same holds.

        Raises:
            CannotFollow: The plan cannot follow what has happened to the piece.
        """
        self.aids = aids or Aids()
        self._base, self._earlier = plan, earlier
        self._following = Following(plan, sitting)
        self.sitting = sitting
        self.plan = plan = self._following.plan
        self.keys = keys
        self._clock = clock
        self._guard = guard or BounceGuard(self.settings.bounce_ms)
        self._hands = rest or Rest(self.settings.rest_after_min)
        self._counting = Counting(plan, sitting, clock, self.aids, self._hands)
        self.words = StepWords(plan, self.aids.kept)
        self._choices = Choices(self.aids.kept).by_action(self._knot)
        self._forecast = Forecast(plan)
        sitting.follow([count.knot for count in plan.counts], self._forecast.takes_s())
        self.asides = Asides(plan, sitting, earlier)
        self._watch = Watch(sitting)
        self.message = ""
        self.unspoken = ""
        self._deeds = {**self._counting.by_action(), "mark": self._mark}

    @property
    def known(self) -> Known:
        """All that is known of the piece, measured when it is first asked for."""
        return self._following.known

    @property
    def done(self) -> int:
        """How many counts are made; never more than the plan has."""
        return self._counting.done

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
        return self._following.stale

    def anew(self) -> "Work":
        """Return the same piece with the plan that follows all that has happened."""
        work = Work(
            self._base, self.sitting, self._clock, self.keys,
            earlier=self._earlier, aids=self.aids, guard=self._guard, rest=self._hands,
        )  # fmt: skip
        work.message, work.unspoken = self.message, self.unspoken
        return work

    def otherwise(self) -> Otherwise:
        """Return what takes in that the work differs from the plan."""
        return self._following.otherwise(self.done)

    def act(self, action: str, read_s: float | None = None) -> Ring:
        """Do what a key asks, and return what is to be heard. What cannot be kept is told.

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
            outcome = self._deeds[action]()
        except PieceError as error:
            outcome = Outcome(f"Not counted: {error}")
        self.message = outcome.message
        return outcome.ring

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
        to = min(done, self.plan.total)
        if to == self.done:
            return
        told = f"Counted {to - self.done} as made."
        if to < self.done:
            told = f"Gone back: {self.unpicking(to)}."
        self.keep(lambda: self._counting.go_to(to), told)

    def unpicking(self, to: int) -> str:
        """Say what it means to go back to an earlier count."""
        return self._counting.unpicking(to)

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
        before = self.sitting.state.seq, self.message
        try:
            self.sitting.refresh()
        except PieceError as error:
            self.message = str(error)
        return before != (self.sitting.state.seq, self.message)

    def _mark(self) -> Outcome:
        words = f"Marked. {self.keys.shown('note')} writes the words, now or later."
        self.keep(lambda: self.asides.note(self.done, ""), words)
        return Outcome(self.message)

    def view(self) -> View:
        """Return all that is to be seen now."""
        done, plan = self.done, self.plan
        step, order = plan.step_at(done), order_at(plan, done)
        return View(
            title=self.sitting.name,
            done=done,
            total=plan.total,
            number=done - step.first + 1 if step else 0,
            of=step.counts if step else 0,
            sentence=self.words.sentence(done),
            where=where(plan, done) if step else (),
            next=self.words.next(done),
            notes=self._notes(step),
            message=self._watch.line() or self.message,
            time=self._time(),
            cords=self._following.cord_left.hanging(done, order, CORDS if step else CORDS_OVER),
            paused=self._counting.paused,
            order=order,
            short=self._following.cord_left.short(done, order),
            sign=sign_for(plan, step) if step else "",
            offer=self.asides.offer(done, self.keys.shown("before")),
            noted=self.asides.here(done),
            passing=self._counting.passing,
            units=self.settings.units,
            any_key=self.settings.any_key,
            unspoken=self.unspoken,
        )

    def cords(self) -> tuple[StrandLeft, ...]:
        """Return the cord left on every strand that hangs, those at hand first, then the worst."""
        return self._following.cord_left.hanging(self.done, self.order())

    def order(self) -> tuple[int, ...]:
        """Return the strands from the left, as they hang now."""
        return order_at(self.plan, self.done)

    def _knot(self) -> str:
        """Return the knot at hand, "" where there is none."""
        return self.plan.counts[self.done].knot if self.done < self.plan.total else ""

    def _notes(self, step: PlannedStep | None) -> tuple[str, ...]:
        """Return what is worth knowing besides, and the file's note for the step at hand.

        What is wrong with the settings is told until something is counted.
        """
        told = "" if self._hands.begun else self.aids.told
        rest = self._hands.proposal(self.sitting.state.sitting_s)
        note = step.source.about.note if step else ""
        return tuple(filter(None, (told, rest, note)))

    def _time(self) -> tuple[str, ...]:
        """Return the time of this sitting, of the piece, what is left and when that will be."""
        state, made = self.sitting.state, self.done >= self.plan.total
        left = None if made else self._forecast.left(state.paces, self.done)
        return time_told(state.sitting_s, state.worked_s, left, self._clock.now_ms())
