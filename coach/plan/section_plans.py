"""Work on several boards: each board as a plan of its own.

What is made apart, and each side of work begun in the middle, has a board, a length and a picture
of its own. Code that looks at one board looks at the plan of its section.
"""

from bisect import bisect_left
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import Generic, TypeVar

from coach.plan.steps import PlannedStep, Section, Unfolded
from coach.project import model

P = TypeVar("P", bound=Unfolded)


@dataclass(frozen=True, slots=True)
class SectionPlan(Generic[P]):
    """The plan of one section; its count n is count `counts[n]` of the whole."""

    section: Section
    plan: P
    counts: Sequence[int]

    def done(self, done: int) -> int:
        """Return how many of its counts are made when `done` of the whole are."""
        return bisect_left(self.counts, done)


def section_plans(plan: P) -> tuple[SectionPlan[P], ...]:
    """Return the work on each board of a plan as a plan of its own."""
    return tuple(_section_plan(plan, number) for number in range(len(plan.sections)))


def _section_plan(plan: P, number: int) -> SectionPlan[P]:
    section = plan.sections[number]
    own = [step for step in plan.steps if step.section == number and _stays(step)]
    counts = [count for step in own for count in range(step.first, step.end)]
    project = replace(
        plan.project,
        start=section.start,
        apart=MappingProxyType({}),
        size=None if section.name or section.end else plan.project.size,
    )
    found = replace(
        plan,
        project=project,
        start=section.order,
        finish=section.finish,
        steps=tuple(_renumbered(own)),
        counts=tuple(plan.counts[count] for count in counts),
        sections=(),
    )
    return SectionPlan(section, found, counts)


def _stays(step: PlannedStep) -> bool:
    """Return whether a step is worked on one board; turning end for end leads to another."""
    return not isinstance(step.source, model.EndForEnd)


def _renumbered(steps: Sequence[PlannedStep]) -> Iterator[PlannedStep]:
    first = 0
    for index, step in enumerate(steps):
        yield replace(step, index=index, first=first, section=0)
        first += step.counts
