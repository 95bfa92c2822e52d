"""Counting a piece up and down; a count is stored before it is reported."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal, TypeAlias

from coach.pace.working_time import BreakReminder
from coach.piece import Clock, Sitting
from coach.piece.events import Left
from coach.plan.board_at_count import stretch_end
from coach.plan.plan_model import Plan
from coach.quantities import in_units
from coach.session.count_mode import Tally
from coach.session.keymap import Presses
from coach.session.navigation import unpicking
from coach.session.ports import Aids

Ring: TypeAlias = Literal["", "step", "repeat"]
"""What is to be heard: the end of a step of several ties, or of a repeat."""


@dataclass(frozen=True, slots=True)
class Outcome:
    """The message for the screen, and the sound to make."""

    message: str = ""
    ring: Ring = ""


class Counting:
    """Counts one piece up and down; raises PieceError where a count cannot be stored."""

    def __init__(
        self, plan: Plan, sitting: Sitting, clock: Clock, aids: Aids, rest: BreakReminder
    ) -> None:
        """Set up for a piece.

        Args:
            plan: The plan that the piece follows.
            sitting: The piece, opened.
            clock: Tells the time.
            aids: The settings in use, and the store of passes.
            rest: The reminder of a rest, which is told of every count.
        """
        # From the first key on, no key may wait for the disk.
        sitting.hurry()
        self._plan = plan
        self._sitting = sitting
        self._clock = clock
        self._kept = aids.kept
        self._hands = rest
        self._tally = Tally(plan, sitting, aids.kept, aids.passes)

    @property
    def done(self) -> int:
        """The number of counts made, at most as many as the plan has."""
        return min(self._sitting.state.done, self._plan.total)

    @property
    def passing(self) -> tuple[int, int]:
        """The number of the next pass and how many its tie has; (0, 0) if none are counted."""
        return self._tally.passing(self.done)

    @property
    def under_way(self) -> bool:
        """Whether some passes of the next tie are made."""
        return self._tally.made(self.done) > 0

    @property
    def paused(self) -> bool:
        """Whether the maker stopped the clock; leaving another screen stops nothing here."""
        state = self._sitting.state
        # Another window's leaving stops its own clock, which the shared state shows as paused.
        elsewhere = isinstance(state.last, Left) and state.last.sitting != self._sitting.number
        return state.paused and not elsewhere

    def by_action(self, presses: Presses) -> dict[str, Callable[[], Outcome]]:
        """Return the method for each counting action, by the action's id."""
        return {
            "count": self.count,
            "give_back": lambda: self.give_back(presses.given_back()),
            "take_back": self.take_back,
            "rest": self.rest,
            "restart": self.restart,
            "pause": self.pause,
        }

    def count(self) -> Outcome:
        """Count one press as a tie, a pass or a step, as it is set."""
        if self.done >= self._plan.total:
            return Outcome("Nothing is left to count.")
        if self._tally.by(self.done) == "step":
            return self.rest()
        if self._tally.pass_made(self.done):
            return Outcome()
        return Outcome(ring=self._made(1))

    def give_back(self, n: int) -> Outcome:
        """Count presses that were merged into one, each as a tie, a pass or a step."""
        if not n:
            return Outcome("No presses were merged.")
        before, ring = self.done, Outcome().ring
        # One event for all of them: each is a transaction, and the maker waits.
        if self._tally.by(before) == "tie" and before < self._plan.total:
            ring = self._made(min(n, self._plan.total - before))
        else:
            for _ in range(n):
                ring = self.count().ring
        told = f"Counted the merged presses: {self.done - before} more."
        return Outcome(told, ring)

    def rest(self) -> Outcome:
        """Count the rest of the current step as made."""
        step = self._plan.step_at(self.done)
        if step is None:
            return Outcome()
        n = stretch_end(self._plan, step) - self.done
        told = "" if self.done + n >= self._plan.total else f"Counted the rest of the step: {n}."
        return Outcome(told, self._made(n))

    def take_back(self) -> Outcome:
        """Take back what the last press counted."""
        passes = self._tally.made(self.done)
        if passes:
            self._tally.put(self.done, passes - 1)
            return Outcome("Took one pass back.")
        if not self.done:
            return Outcome("Nothing is made yet.")
        if self._tally.by(self.done - 1) == "step":
            return self.restart()
        self._sitting.take_back(1)
        # Counted by passes, the tie comes back with only its last pass missing.
        self._tally.open_again(self.done)
        return Outcome("Took one back.")

    def restart(self) -> Outcome:
        """Go back to the start of the current step, or from there to the step before."""
        if not self.done:
            return Outcome("Nothing is made yet.")
        first = self._plan.step_of(self.done - 1).first
        told = self.unpicking(first)
        self._sitting.take_back(self.done - first)
        return Outcome(f"At the step's start: {told}.")

    def pause(self) -> Outcome:
        """Stop the clock, or let it go on."""
        if self._sitting.state.paused:
            self._sitting.resume()
            return Outcome("Clock running.")
        self._sitting.pause()
        return Outcome()

    def go_to(self, done: int) -> None:
        """Count or take back until `done` counts are made."""
        if done > self.done:
            self._sitting.count(done - self.done)
        elif done < self.done:
            self._sitting.take_back(self.done - done)

    def unpicking(self, to: int) -> str:
        """Return how many ties going back to count `to` undoes, and the cord it frees."""
        return in_units(unpicking(self._plan, self.done, to), self._kept.now.units)

    def _made(self, n: int) -> Ring:
        before = self.done
        self._sitting.count(n)
        self._tally.put(self.done, 0)
        self._hands.count(self._clock.tick_ms(), self._sitting.state.sitting_s)
        return what_ended(self._plan, before, self.done)


def what_ended(plan: Plan, before: int, done: int) -> Ring:
    """Return what has ended between two counts: a repeat, a step of several ties, or nothing.

    Args:
        plan: The plan.
        before: How many counts were made before.
        done: How many are made now.
    """
    if done <= before:
        return ""
    old = plan.step_of(done - 1)
    if done < stretch_end(plan, old):
        return ""
    now = plan.step_at(done)
    trail = {(i, v.name, v.turn) for i, v in enumerate(now.trail)} if now else set()
    repeats = [(i, v.name, v.turn) for i, v in enumerate(old.trail) if v.turns > 1]
    if any(visit not in trail for visit in repeats):
        return "repeat"
    return "step" if old.of > 1 else ""
