"""Groups worked in any order: steps that would make one wait for another are refused."""

from dataclasses import dataclass

from coach.plan.compile.step_context import refuse
from coach.project import model

_INSIDE = {
    model.Seam: "Counting from another strand",
    model.Make: "Making something apart",
    model.TakeUp: "Taking up strands that were laid aside",
    model.BringDown: "Bringing free ends down",
}


@dataclass(slots=True)
class FreeGroups:
    """Numbers each `each` worked in any order, and checks the steps inside it."""

    number: int = 0
    depth: int = 0  # of groups within groups at which the one at hand is; 0 outside

    def begin(self, depth: int) -> None:
        """Enter the groups of an `each` in any order, at a nesting depth."""
        self.number += 1
        self.depth = depth

    def end(self) -> None:
        """Leave the groups entered last."""
        self.depth = 0

    def of_group(self, depth: int) -> int:
        """Return the number of the `each` in any order whose groups have this depth, else 0."""
        return self.number if depth == self.depth else 0

    def check(self, step: model.Step) -> None:
        """Raise Misfit for a step that cannot stand in a group worked in any order."""
        if not self.depth:
            return
        if isinstance(step, model.Each) and step.any_order:
            message = "An ‘each’ in any order cannot stand inside another one."
            raise refuse("ORDER", step.about.span, message, "Leave ‘order: any’ out of this one.")
        if type(step) in _INSIDE:
            message = f"{_INSIDE[type(step)]} makes one group wait for another."
            raise refuse("ORDER", step.about.span, message, "Put it after the groups.")
