"""More repeats or fewer from here on, and as many as reach a length."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Final

from coach.piece.changes.effective_plan import follow, keeps
from coach.piece.changes.repeats import CannotFollow, as_repeated, by_repeats, calls, part_varied
from coach.piece.events import Happening, Repeats
from coach.plan.plan_model import Plan
from coach.project import model
from coach.quantities import show_length

_CLOSE_MM: Final = 0.05
_MOST: Final = 100_000


@dataclass(frozen=True, slots=True)
class Turns:
    """One part, or named step, made so many times in its call number `call`, and the plan then."""

    part: str
    call: int
    times: int
    plan: Plan


@dataclass(frozen=True, slots=True)
class Course:
    """A piece as far as it has got: the plan it began with, what happened, the counts made."""

    base: Plan
    happenings: Sequence[Happening]
    done: int

    @property
    def project(self) -> model.Project:
        """The project with the repeats as they are now."""
        return as_repeated(self.base.project, self.happenings)

    def turned(self, part: str, call: int, times: int) -> Turns:
        """Return the plan with that many repeats in a call. Raises CannotFollow."""
        wished = Repeats(
            at_ms=0, tick_ms=0, sitting=0, at_done=0, total=0, part=part, call=call, times=times
        )
        return Turns(part, call, times, follow(self.base, (*self.happenings, wished)))


def more(course: Course, steps: int) -> Turns:
    """Return `steps` times as many repeats more than now (fewer, below zero) from here on.

    A part that goes up and down in pairs does so here.

    Raises:
        CannotFollow: That would change what is made, or leave no repeat.
    """
    part = part_varied(course.project)
    change = steps * by_repeats(course.project, part)
    now = follow(course.base, course.happenings)
    for call, step in enumerate(calls(course.project, part)):
        if step.times + change >= 1:
            turns = course.turned(part, call, step.times + change)
            if keeps(now, turns.plan, course.done):
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


def reaching(
    course: Course, wish_mm: float, length_of: Callable[[Plan], float]
) -> tuple[Turns, float]:
    """Return the repeats whose length comes nearest to a wish, and that length in mm.

    Args:
        course: The piece as it is.
        wish_mm: The finished length wished for.
        length_of: Gives the length to expect of a plan, in mm.

    Raises:
        CannotFollow: No number of repeats comes near; the text says what the nearest gives.
    """
    ladder = _Ladder(course, length_of)
    step = ladder.step
    guess = round((wish_mm - ladder.length(0)) / step)
    if abs(guess) > _MOST:
        raise CannotFollow("No number of repeats that could be knotted reaches that length.")
    near = [n for n in (guess - 1, guess, guess + 1) if ladder.possible(n)]
    if not near:
        least = ladder.least(guess)
        raise CannotFollow(
            f"No number of repeats reaches {show_length(wish_mm)}: the nearest that can still be "
            f"made, {ladder.at(least).times} of {ladder.at(least).part}, gives about "
            f"{show_length(ladder.length(least))}."
        )
    best = min(near, key=lambda n: abs(ladder.length(n) - wish_mm))
    if abs(ladder.length(best) - wish_mm) > abs(step):
        raise CannotFollow(
            f"No number of repeats reaches {show_length(wish_mm)}: {ladder.at(best).times} of "
            f"{ladder.at(best).part} gives about {show_length(ladder.length(best))}."
        )
    return ladder.at(best), ladder.length(best)


class _Ladder:
    """The plans with more and fewer repeats, worked out when they are asked for."""

    def __init__(self, course: Course, length_of: Callable[[Plan], float]) -> None:
        self._course = course
        self._length_of = length_of
        self._plans: dict[int, Turns | None] = {}
        here = follow(course.base, course.happenings)
        try:
            first = more(course, 1)
            self._unit = by_repeats(course.project, first.part)
            self._plans[0] = Turns(first.part, first.call, first.times - self._unit, here)
        except CannotFollow:
            first = more(course, -1)
            self._unit = by_repeats(course.project, first.part)
            self._plans[0] = Turns(first.part, first.call, first.times + self._unit, here)
        self._like = first
        grown = length_of(first.plan) - length_of(here)
        self.step = grown if first.times > self.at(0).times else -grown
        if self.step < _CLOSE_MM:
            raise CannotFollow(f"More of {first.part} does not make this piece longer.")

    def possible(self, steps: int) -> bool:
        """Return whether so many steps more can be made."""
        if steps not in self._plans:
            self._plans[steps] = self._find(steps)
        return self._plans[steps] is not None

    def at(self, steps: int) -> Turns:
        """Return the plan with so many steps more, which must be possible."""
        self.possible(steps)
        found = self._plans[steps]
        if found is None:
            raise CannotFollow("So many repeats cannot be made from here on.")
        return found

    def length(self, steps: int) -> float:
        """Return the length to expect with so many steps more."""
        return self._length_of(self.at(steps).plan)

    def least(self, towards: int) -> int:
        """Return the possible number of steps that goes farthest towards one that is not."""
        last = 0
        way = 1 if towards > 0 else -1
        while last != towards and self.possible(last + way):
            last += way
        return last

    def _find(self, steps: int) -> Turns | None:
        times = self.at(0).times + steps * self._unit
        if times < 1:
            return None
        try:
            turns = self._course.turned(self._like.part, self._like.call, times)
        except CannotFollow:
            return None
        return turns if keeps(self.at(0).plan, turns.plan, self._course.done) else None
