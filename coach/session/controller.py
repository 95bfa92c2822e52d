"""The controller of a piece on the bench: keys in, a view for any screen out.

Counting, the plan that follows what has happened, and the words of a step have their own modules.
"""

from collections.abc import Callable, Sequence
from functools import partial
from typing import Self

from coach.pace.working_time import BreakReminder
from coach.piece import Clock, Note, PieceError, Sitting
from coach.piece.reports.forecast import Forecast
from coach.plan.board_at_count import knot_name_at, order_at
from coach.plan.cord.cord_left import StrandLeft
from coach.plan.plan_model import Plan, PlannedStep
from coach.plan.wording.place_words import place_in_piece
from coach.session.adjusting.choosing import choice_offered, take_back
from coach.session.adjusting.deviations import DeviationRecorder
from coach.session.annotations import Annotations
from coach.session.counting import Counting, Outcome, Ring
from coach.session.keymap import Keys, Presses
from coach.session.plan_follower import PlanFollower
from coach.session.ports import Aids, Batch, OnBench
from coach.session.quick_settings import Toggles
from coach.session.step_words import StepWords, sign_for
from coach.session.time_format import time_told
from coach.session.unsaved_counts import Watch
from coach.session.view_model import CORDS, CORDS_OVER, View
from coach.settings.settings import Settings


class BenchController:
    """Controls one piece: carries out keys, and returns what there is to show.

    `message` is the result of the last key, `unspoken` the reason why speech fails.
    """

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
        presses: Presses | None = None,
        rest: BreakReminder | None = None,
        batch: Batch | None = None,
    ) -> None:
        """Set up for a piece.

        Args:
            plan: The plan that the piece was begun with.
            sitting: The piece, opened.
            clock: Tells the time.
            keys: The keys as they are set.
            earlier: The notes of earlier pieces of the same project.
            aids: Settings, speech and the like; without them all settings are the defaults.
            now: The plan that the piece follows by now, if that is known already.
            presses: The reader of keys, when the sitting goes on with another plan.
            rest: The reminder of a rest, likewise.
            batch: The order that the piece belongs to, if any.

        Raises:
            CannotFollow: The plan cannot follow what has happened to the piece.
        """
        self.aids = aids or Aids()
        self._base, self._earlier = plan, earlier
        self._following = PlanFollower(plan, sitting, now, self.aids.colourways)
        self.sitting, self.batch = sitting, batch
        self.plan = plan = self._following.plan
        self.keys = keys
        self._clock = clock
        self.presses = presses or Presses(keys, self.aids.kept, clock)
        self._hands = rest or BreakReminder(self.settings.rest_after_min)
        self._counting = Counting(plan, sitting, clock, self.aids, self._hands)
        self.words = StepWords(plan, self.aids.kept)
        self._choices = Toggles(self.aids.kept).by_action(lambda: knot_name_at(plan, self.done))
        self._forecast = Forecast(plan)
        sitting.follow([count.knot for count in plan.counts], self._forecast.work)
        self.asides = Annotations(plan, sitting, earlier)
        self._watch = Watch(sitting)
        self.message = ""
        self.unspoken = ""
        self._deeds = {**self._counting.by_action(self.presses), "mark": self._mark}
        self._deeds["take_back"] = partial(take_back, sitting, self._counting, self.otherwise)

    @classmethod
    def on(cls, on_bench: OnBench, clock: Clock, keys: Keys, aids: Aids | None = None) -> Self:
        """Return the controller of a piece as it was opened, all that is known of it put in."""
        return cls(
            on_bench.plan, on_bench.sitting, clock, keys,
            earlier=on_bench.earlier, aids=aids, now=on_bench.now, batch=on_bench.batch,
        )  # fmt: skip

    @property
    def done(self) -> int:
        """The number of counts made, at most as many as the plan has."""
        return self._counting.done

    @property
    def settings(self) -> Settings:
        """The settings in use; keys on the bench change them."""
        return self.aids.kept.now

    def action(self, key: str) -> str | None:
        """Return the id of the action of a key, None for a key without one."""
        return self.presses.action(key)

    @property
    def stale(self) -> bool:
        """Whether the plan is out of date because of a happening since; see `anew`."""
        return self._following.stale

    def anew(self) -> "BenchController":
        """Return a controller of the same sitting whose plan follows all that has happened."""
        work = BenchController(
            self._base, self.sitting, self._clock, self.keys,
            earlier=self._earlier, aids=self.aids, presses=self.presses, rest=self._hands,
            batch=self.batch,
        )  # fmt: skip
        work.message, work.unspoken = self.message, self.unspoken
        return work

    def otherwise(self) -> DeviationRecorder:
        """Return the recorder of measures and deviations at this count."""
        return self._following.otherwise(self.done)

    def act(self, action: str, read_s: float | None = None) -> Ring:
        """Carry out an action, set `message`, and return the sound to make.

        If it cannot be stored it changes nothing, and the message says so.

        Args:
            action: The id of a counting action or of a setting that has a key.
            read_s: When the key was read, in monotonic seconds; None for now. A key may wait behind
                a busy screen, so a bounce is judged by when it was read.
        """
        self.message = self.unspoken = ""
        if action == "count" and self.presses.bounces(read_s):
            self.message = self.presses.told()
            return ""
        if action in self._choices:
            self.message = self._choices[action]()
            return ""
        try:
            outcome = self._deeds[action]()
        except PieceError as error:
            outcome = Outcome(f"Not counted: {error}")
        self.message = self.sitting.told(outcome.message) or self.presses.told()
        return outcome.ring

    def leave(self) -> None:
        """End the sitting; if that cannot be stored, only the moment of leaving is lost."""
        try:
            self.sitting.leave()
        except PieceError as error:
            self.message = str(error)

    def keep(self, deed: Callable[[], object], told: str = "") -> None:
        """Run an operation that stores something, and set `message` to `told` or the error."""
        self.message = told
        try:
            deed()
        except PieceError as error:
            self.message = f"Not saved: {error}"
        self.message = self.sitting.told(self.message)

    def go_to(self, done: int) -> None:
        """Set the count to what was found on the work itself, forward or back."""
        to = min(done, self.plan.total)
        if to == self.done:
            return
        told = f"Counted {to - self.done} as made."
        if to < self.done:
            told = f"Gone back: {self.unpicking(to)}."
        self.keep(lambda: self._counting.go_to(to), told)

    def unpicking(self, to: int) -> str:
        """Return how many ties going back to count `to` undoes, and the cord it frees."""
        return self._counting.unpicking(to)

    def refresh(self) -> bool:
        """Read what another process has stored, and return whether it changes what is shown."""
        before = self.sitting.state.seq, str(self.sitting.trouble), self.message
        try:
            self.sitting.refresh()
        except PieceError as error:
            self.message = str(error)
        return before != (self.sitting.state.seq, str(self.sitting.trouble), self.message)

    def _mark(self) -> Outcome:
        words = f"Marked. {self.keys.shown('note')} writes the words, now or later."
        self.keep(lambda: self.asides.note(self.done, ""), words)
        return Outcome(self.message)

    def view(self) -> View:
        """Return all that a screen shows of the piece at this moment."""
        done, plan = self.done, self.plan
        step, order = plan.step_at(done), order_at(plan, done)
        left = self._following.cord_left  # before the time, which its one measuring serves too
        return View(
            title=self.sitting.name,
            done=done,
            total=plan.total,
            number=step.earlier + done - step.first + 1 if step else 0,
            of=step.of if step else 0,
            who=self.words.who(done),
            sentence=self.words.sentence(done),
            where=place_in_piece(plan, done) if step else (),
            next=self.words.next(done),
            notes=self._notes(step),
            message=self._watch.line() or self.message,
            time=self._time(),
            cords=left.hanging(done, order, CORDS if step else CORDS_OVER),
            paused=self._counting.paused,
            order=order,
            short=left.short(done, order),
            sign=sign_for(plan, step) if step else "",
            offer=self.asides.offer(done, self.keys.shown("before"))
            or choice_offered(plan, done, self.keys.shown("choose"))
            or self.words.offer(done, self.keys.shown("how"), self.keys.shown("measure")),
            noted=self.asides.here(done),
            passing=self._counting.passing,
            units=self.settings.units,
            any_key=self.settings.any_key,
            unspoken=self.unspoken,
        )

    def cords(self) -> tuple[StrandLeft, ...]:
        """Return the cord left on the strands that hang: those of the next tie first."""
        return self._following.cord_left.hanging(self.done, self.order())

    def order(self) -> tuple[int, ...]:
        """Return the strands as they hang now, from the left."""
        return order_at(self.plan, self.done)

    def _notes(self, step: PlannedStep | None) -> tuple[str, ...]:
        """Return the current notes: wrong settings, a rest that is due, the file's note."""
        told = "" if self._hands.begun else self.aids.told  # until the first count of the sitting
        rest = self._hands.proposal(self.sitting.state.sitting_s)
        return tuple(filter(None, (told, rest, step.note if step else "")))

    def _time(self) -> tuple[str, ...]:
        """Return the time of the sitting and of the piece, what is left, and when it is over."""
        state, made = self.sitting.state, self.done >= self.plan.total
        left = None if made else self._forecast.left(state.paces, self.done)
        return time_told(state.sitting_s, state.worked_s, left, self._clock.now_ms())
