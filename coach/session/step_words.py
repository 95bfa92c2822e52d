"""The words for a step on the bench: sentence, line in a list, one large word."""

from collections.abc import Mapping
from functools import cached_property
from types import MappingProxyType
from typing import Final

from coach.plan.plan_model import Plan, PlannedStep
from coach.plan.wording.place_words import step_line
from coach.plan.wording.sentences import step_sentence
from coach.plan.wording.who_ties import Who, who_ties
from coach.project import model
from coach.quantities import in_units
from coach.settings.overrides import Kept

SIGNS: Final[Mapping[type, str]] = MappingProxyType({
    model.Do: "READ", model.Measure: "SIZE", model.Wait: "WAIT", model.Space: "GAP",
    model.Picot: "LOOP", model.Bead: "BEAD", model.Turn: "TURN", model.Cross: "SWAP",
    model.Add: "ADD", model.LayAside: "ASIDE", model.TakeUp: "TAKE", model.Flip: "FLIP",
    model.Seam: "SEAM", model.Trim: "CUT", model.Braid: "PLAIT", model.Attach: "JOIN",
    model.EndForEnd: "TURN", model.BringDown: "ENDS", model.FoldBack: "BACK",
})  # fmt: skip
"""The large words of steps in which there is nothing to count."""


class StepWords:
    """Words the steps of one plan, with lengths in the current units.

    A step that the maker wrote in her own words stays as it is.
    """

    def __init__(self, plan: Plan, kept: Kept) -> None:
        """Set the plan, and the settings in use."""
        self._plan = plan
        self._kept = kept

    def sentence(self, done: int) -> str:
        """Return the sentence that says what to do after `done` counts."""
        return self._in_units(step_sentence(self._plan, done), self._plan.step_at(done))

    def who(self, done: int) -> tuple[Who, ...]:
        """Return who does what after `done` counts, to be read from a metre away."""
        units = self._kept.now.units
        return tuple(
            part if part.strand is not None else Who(in_units(part.text, units))
            for part in who_ties(self._plan, done)
        )

    def offer(self, done: int, key: str, measures: str = "") -> str:
        """Return the line that offers to show a knot, or to write down a measure; else "".

        Args:
            done: How many counts are made.
            key: The name of the key that shows a knot, offered at the first one of its kind;
                without a key there is no offer.
            measures: The name of the key that takes a measure, offered where one is to be taken.
        """
        step = self._plan.step_at(done)
        if measures and step and isinstance(step.source, model.Measure):
            return f"{measures} writes it down."
        if not key or done >= self._plan.total:
            return ""
        first = self._firsts.get(self._plan.counts[done].knot) == done
        return f"{key} shows how it is tied." if first else ""

    @cached_property
    def _firsts(self) -> dict[str, int]:
        """The first count of each knot."""
        counts = enumerate(self._plan.counts)
        return {count.knot: done for done, count in reversed([*counts]) if count.knot}

    def line(self, index: int) -> str:
        """Return the step at `index` of the plan in one short line."""
        return self._in_units(step_line(self._plan, index), self._plan.steps[index])

    def next(self, done: int) -> str:
        """Return the step after the current one in one short line; "" when all is made."""
        step = self._plan.step_at(done)
        if step is None:
            return ""
        if step.index + 1 == len(self._plan.steps):
            return "the end of the piece"
        return self.line(step.index + 1)

    def _in_units(self, said: str, step: PlannedStep | None) -> str:
        own = step is None or isinstance(step.source, model.Do)
        return said if own else in_units(said, self._kept.now.units)


def sign_for(plan: Plan, step: PlannedStep) -> str:
    """Return the large word for a step of one count without a knot; "" for any other."""
    if step.counts != 1 or plan.counts[step.first].knot:
        return ""
    return SIGNS.get(type(step.source), "READ")
