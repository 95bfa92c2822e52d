"""A drawing of one step under way: who comes in where, and what has been drawn so far."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import Final

from coach.card.cord_paths import Run, Yarn
from coach.card.frame import HEAD, Frame, over_seam
from coach.card.svg import Point
from coach.plan.plan_model import Count, Plan, PlannedStep

TOP: Final = HEAD + 4
LEAD: Final = 30.0  # from the numbers to the first tie


@dataclass(slots=True)
class Sketch:
    """A drawing under way: stretches of cord, other shapes, and how high it has become."""

    plan: Plan
    step: PlannedStep
    frame: Frame
    yarns: dict[str, Yarn]
    runs: list[Run] = field(default_factory=list)
    shapes: list[str] = field(default_factory=list)
    bottom: float = TOP + 2 * LEAD
    beyond: frozenset[int] = frozenset()

    def __post_init__(self) -> None:
        self.beyond = over_seam(self.step)

    def yarn(self, strand: int) -> Yarn:
        """Return how a strand looks."""
        return self.yarns[self.plan.strands[strand].cord]

    def place(self, strand: int, order: Sequence[int]) -> int:
        """Return a strand's place from 0; one beyond the seam is counted on."""
        return order.index(strand) + (len(order) if strand in self.beyond else 0)

    def enters(self, strand: int) -> Point:
        """Return where a strand comes in at the top."""
        return self.frame.top(self.place(strand, self.step.before))

    def leaves(self, strand: int) -> Point:
        """Return where a strand goes out at the bottom; one that is gone ends where it hung."""
        order = self.step.after if strand in self.step.after else self.step.before
        return self.frame.x(self.place(strand, order)), self.bottom


Draw = Callable[[Sketch, Sequence[Count]], set[int]]
"""Draws the counts of a step and gives the strands that need no drawing any more."""
