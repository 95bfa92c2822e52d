"""More or fewer repeats from here on, and the number that reaches a length."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Final

from coach.piece.changes.effective_plan import in_force, is_same_so_far, plan_after
from coach.piece.changes.repeats import CannotFollow, as_repeated, part_varied
from coach.piece.events import Happening, Repeats
from coach.plan.plan_model import Plan
from coach.plan.resize.nearest_length import NotLonger, nearest_repeats
from coach.plan.resize.varying import by_repeats, calls
from coach.project import model
from coach.quantities import show_length

_MOST: Final = 100_000
_TOO_MANY: Final = "No number of repeats that could be knotted reaches that length."


@dataclass(frozen=True, slots=True)
class RepeatTimes:
    """A part or named step with another number of repeats in one of its calls, and its plan."""

    part: str
    call: int
    times: int
    plan: Plan


@dataclass(frozen=True, slots=True)
class Course:
    """A piece at a count: the plan it began with, its happenings, and the counts made."""

    base: Plan
    happenings: Sequence[Happening]
    done: int

    @property
    def project(self) -> model.Project:
        """The project with its current repeats."""
        return as_repeated(self.base.project, in_force(self.happenings))

    def turned(self, part: str, call: int, times: int) -> RepeatTimes:
        """Return the plan with a number of repeats in a call.

        Args:
            part: The name of the part.
            call: Which of its calls, from 0.
            times: The number of repeats.

        Raises:
            CannotFollow: Ties already made would change.
        """
        wished = Repeats(
            at_ms=0, tick_ms=0, sitting=0, at_done=self.done, total=0, part=part, call=call,
            times=times,
        )  # fmt: skip
        return RepeatTimes(part, call, times, plan_after(self.base, (*self.happenings, wished)))


def more_repeats(course: Course, steps: int) -> RepeatTimes:
    """Return the plan with `steps` more steps of repeats from here on, fewer below zero.

    A part that changes in pairs does so here.

    Raises:
        CannotFollow: That would change what is made, or leave no repeat.
    """
    part = part_varied(course.project)
    change = steps * by_repeats(course.project, part)
    now = plan_after(course.base, course.happenings)
    for call, step in enumerate(calls(course.project, part)):
        if step.times + change >= 1:
            turns = course.turned(part, call, step.times + change)
            if is_same_so_far(now, turns.plan, course.done):
                return turns
    raise CannotFollow(_why_not(now, part, change, course.done))


def _why_not(plan: Plan, part: str, change: int, done: int) -> str:
    if change > 0:
        return (
            f"What comes after the last {part} is begun. Take back to its end, and more of it can "
            "be made."
        )
    begun = [v.turn for s in plan.steps if s.first < done for v in s.trail if v.name == part]
    least = max(begun, default=1)
    return f"Of {part}, {least} {'is' if least == 1 else 'are'} begun: fewer cannot be made now."


def repeats_for_length(
    course: Course, wish_mm: float, length_of: Callable[[Plan], float]
) -> tuple[RepeatTimes, float]:
    """Return the repeats whose length comes nearest to a wish, and that length in mm.

    Args:
        course: The piece at its count.
        wish_mm: The finished length wished for.
        length_of: Return the length to expect of a plan, in mm.

    Raises:
        CannotFollow: No number of repeats comes near; the text says what the nearest comes to.
    """
    ladder = _Ladder(course)

    def length(steps: int) -> float | None:
        turns = ladder.at(steps)
        return length_of(turns.plan) if turns else None

    try:
        found = nearest_repeats(length, wish_mm)
    except NotLonger:
        raise CannotFollow(f"More of {ladder.now.part} does not make this piece longer.") from None
    best = ladder.at(found.steps) or ladder.now
    if not found.reaches(wish_mm):
        raise CannotFollow(
            f"No number of repeats reaches {show_length(wish_mm)}: the nearest that can still be "
            f"made, {best.times} of {best.part}, gives about {show_length(found.length_mm)}."
        )
    return best, found.length_mm


class _Ladder:
    """A cache of the plans with more and fewer repeats."""

    def __init__(self, course: Course) -> None:
        try:
            steps, first = 1, more_repeats(course, 1)
        except CannotFollow:
            steps, first = -1, more_repeats(course, -1)
        self._course = course
        self._unit = by_repeats(course.project, first.part)
        here = plan_after(course.base, course.happenings)
        self.now = replace(first, times=first.times - steps * self._unit, plan=here)
        self._found: dict[int, RepeatTimes | None] = {0: self.now, steps: first}

    def at(self, steps: int) -> RepeatTimes | None:
        """Return the plan with so many extra steps, None where it cannot be made from here on.

        Raises:
            CannotFollow: There would be more counts than can be knotted.
        """
        if steps not in self._found:
            self._found[steps] = self._find(steps)
        return self._found[steps]

    def _find(self, steps: int) -> RepeatTimes | None:
        if steps > _MOST:
            raise CannotFollow(_TOO_MANY)
        times = self.now.times + steps * self._unit
        if times < 1:
            return None
        try:
            turns = self._course.turned(self.now.part, self.now.call, times)
        except CannotFollow as error:
            if steps > 0:
                raise CannotFollow(_TOO_MANY) from error
            return None
        return turns if is_same_so_far(self.now.plan, turns.plan, self._course.done) else None
