"""Choices at the bench: open figures, and which group is worked next."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial
from typing import Final

from coach.piece import Sitting
from coach.piece.changes.effective_plan import in_force, last_chosen
from coach.piece.changes.repeats import CannotFollow
from coach.piece.entering.chosen_figures import EXAMPLES, chosen_words, read_choice
from coach.piece.entering.happening_events import choice_event, pick_event, withdrawal_event
from coach.piece.entering.measure_events import Fields
from coach.piece.events import Happening
from coach.plan.board_at_count import order_at
from coach.plan.group_order import ArmMade, arms_at
from coach.plan.plan_model import Plan
from coach.plan.steps import PlannedStep
from coach.plan.wording.open_words import What, figure_asked_for, made_each, open_offer, open_to
from coach.plan.wording.strand_names import span_words
from coach.session.adjusting.deviations import DeviationRecorder
from coach.session.counting import Counting, Outcome

NOTHING_OPEN: Final = "There is nothing to choose at this step."
_MOST_TOLD: Final = 6


@dataclass(frozen=True, slots=True)
class Open:
    """One thing that can be chosen now.

    Attributes:
        label: What it is about.
        example: An example of what to type.
        word: What to type in plain mode, where rows cannot be pointed at.
        deed: Store what was typed, and return the sentence that reports the result.
    """

    label: str
    example: str
    deed: Callable[[str], str]
    word: str


class Choosing:
    """Checks the maker's choices against the plan, stores them, and takes them back.

    Every method that takes a text returns a sentence; for an impossible choice nothing is stored
    and the sentence says what would be possible.
    """

    def __init__(self, otherwise: DeviationRecorder) -> None:
        """Set the recorder of happenings at this count."""
        self._otherwise = otherwise

    def options(self) -> tuple[Open, ...]:
        """Return what can be chosen now, groups to work next last."""
        groups = (self._group(arm) for arm in self._arms() if arm.made < arm.of)
        figures = (self._figure(step, what) for step, what in self._left_open())
        return (*figures, *groups)

    def choose(self, what: str, text: str) -> str:
        """Store a choice for the current step: `times` and `28`, `length` and `8 cm`."""
        found = next(((s, open_) for s, open_ in self._left_open() if open_ == what), None)
        return self._choose(*found, text) if found else NOTHING_OPEN

    def _left_open(self) -> list[tuple[PlannedStep, What]]:
        """Return the open figures of the current step, and of one just made."""
        plan, done = self._otherwise.plan, self._otherwise.done
        step, last = plan.step_at(done), plan.step_of(done - 1) if done else None
        here = [(step, what) for what, _ in open_to(step)] if step else []
        if last is None or last is step or any(what == "times" for _, what in here):
            return here
        return here + [(last, what) for what, _ in open_to(last) if what == "times"]

    def _figure(self, step: PlannedStep, what: What) -> Open:
        plan, done = self._otherwise.plan, self._otherwise.done
        asked = figure_asked_for(plan, step, what)
        label = f"{asked}: {made_each(step, done)} made" if what == "times" else asked
        deed = partial(self._choose, step, what)
        return Open(label, EXAMPLES[what], deed, f"choose {what}")

    def _choose(self, step: PlannedStep, what: What, text: str) -> str:
        otherwise = self._otherwise
        course, told = otherwise.course, []

        def chosen() -> tuple[type[Happening], Fields]:
            choice = read_choice(step, what, text, course.done)
            told.append(chosen_words(otherwise.plan, step, choice))
            return choice_event(course.base, course.happenings, step, choice, course.done)

        return otherwise.record(chosen, "") or told[0]

    def pick(self, text: str) -> str:
        """Store which group is worked next: `3`, counted from the left of the list."""
        arms = self._arms()
        if not arms:
            return "The groups of this step are worked in the file's order."
        number = int(text) if text.isdecimal() and len(text) <= 4 else 0  # noqa: PLR2004 - enough
        arm = next((arm for arm in arms if arm.arm.number == number), None)
        if arm is None:
            return f"Write a number from 1 to {len(arms)}. {progress(arms)}"
        return self._pick(arm)

    def _arms(self) -> tuple[ArmMade, ...]:
        return arms_at(self._otherwise.plan, self._otherwise.done)

    def _group(self, arm: ArmMade) -> Open:
        plan, done = self._otherwise.plan, self._otherwise.done
        label = f"group {arm.arm.number} next: {arm.made} of {arm.of} made{_on(plan, arm, done)}"
        word = f"choose group {arm.arm.number}"
        return Open(label, "enter, with nothing written", lambda _: self._pick(arm), word)

    def _pick(self, arm: ArmMade) -> str:
        past, done = self._otherwise.course.happenings, self._otherwise.done
        return self._otherwise.record(
            lambda: pick_event(self._otherwise.course.base, past, arm.arm, done),
            f"Group {arm.arm.number} is next; {arm.made} of {arm.of} are made.",
        )

    def take_back(self) -> str:
        """Take back the last choice at this count; "" if there is none."""
        course = self._otherwise.course

        def withdrawn() -> tuple[type[Happening], Fields]:
            found = withdrawal_event(course.base, course.happenings, course.done)
            if found is None:
                raise CannotFollow("Nothing was chosen here.")
            return found

        return self._otherwise.record(withdrawn, "Took the choice back.")


def take_back(
    sitting: Sitting, counting: Counting, otherwise: Callable[[], DeviationRecorder]
) -> Outcome:
    """Take back the choice made at this count, or else what the last press counted.

    Args:
        sitting: The piece.
        counting: Its counter.
        otherwise: Return the recorder of deviations; only called where a choice is taken back.
    """
    chosen = can_take_back(sitting.state.happenings, counting.done)
    if chosen and not counting.under_way:
        return Outcome(Choosing(otherwise()).take_back())
    return counting.take_back()


def can_take_back(happenings: Sequence[Happening], done: int) -> bool:
    """Return whether the last choice was made at this count."""
    last = last_chosen(in_force(happenings))
    return last is not None and last.at_done == done


def choice_offered(plan: Plan, done: int, key: str) -> str:
    """Return the line that offers a choice where it can first be made; "" elsewhere.

    Args:
        plan: The plan that the piece follows.
        done: How many counts are made.
        key: The name of the key that chooses; without a key there is no offer.
    """
    step = plan.step_at(done)
    if not key or step is None or step.first != done:
        return ""
    told = open_offer(plan, step, key)
    if told:
        return told
    arms = arms_at(plan, done)
    if sum(arm.made < arm.of for arm in arms) > 1:
        return f"{progress(arms)} {key} works another group next."
    return ""


def progress(arms: Sequence[ArmMade]) -> str:
    """Return the progress of each group, or how many are still to make."""
    if len(arms) > _MOST_TOLD:
        return f"{sum(arm.made < arm.of for arm in arms)} of {len(arms)} groups to make."
    made = [f"{arm.arm.number}: {arm.made} of {arm.of}" for arm in arms]
    return f"Groups, {', '.join(made)}."


def _on(plan: Plan, arm: ArmMade, done: int) -> str:
    """Return the strands of a group as they hang now."""
    order = order_at(plan, done)
    places = sorted(order.index(strand) + 1 for strand in arm.window if strand in order)
    return f", on strands {span_words(places)}" if places else ""
