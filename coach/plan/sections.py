"""Work on more than one board: each board as a plan of its own, and which one is at hand.

What is made apart, and each side of work begun in the middle, has a board, a length and a picture
of its own. All that looks at one board looks at the plan of its section.
"""

from bisect import bisect_left
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from types import MappingProxyType

from coach.plan.plan_model import Plan
from coach.plan.steps import PlannedStep, Section
from coach.project import model


@dataclass(frozen=True, slots=True)
class SectionPlan:
    """The plan of one section; its count n is count `counts[n]` of the whole."""

    section: Section
    plan: Plan
    counts: Sequence[int]

    def done(self, done: int) -> int:
        """Return how many of its counts are made when `done` of the whole are."""
        return bisect_left(self.counts, done)


def section_plans(plan: Plan) -> tuple[SectionPlan, ...]:
    """Return the work on each board of a plan as a plan of its own."""
    return tuple(_section_plan(plan, number) for number in range(len(plan.sections)))


def _section_plan(plan: Plan, number: int) -> SectionPlan:
    section = plan.sections[number]
    own = [step for step in plan.steps if step.section == number and _stays(step)]
    counts = [count for step in own for count in range(step.first, step.end)]
    project = replace(
        plan.project,
        start=section.start,
        apart=MappingProxyType({}),
        size=None if section.name or section.end else plan.project.size,
    )
    found = Plan(
        project=project,
        strands=plan.strands,
        start=section.order,
        finish=section.finish,
        steps=tuple(_renumbered(own)),
        counts=tuple(plan.counts[count] for count in counts),
        repeats=plan.repeats,
        hands=plan.hands,
    )
    return SectionPlan(section, found, counts)


def _stays(step: PlannedStep) -> bool:
    """Whether a step is worked on its board; to turn end for end leads from one to another."""
    return not isinstance(step.source, model.EndForEnd)


def _renumbered(steps: Sequence[PlannedStep]) -> Iterator[PlannedStep]:
    first = 0
    for index, step in enumerate(steps):
        yield replace(step, index=index, first=first, section=0)
        first += step.counts


def at_hand(plan: Plan, done: int) -> tuple[Plan, int]:
    """Return the plan of the board at hand, and how many of its counts are made.

    With all made that is the piece itself; where it has no board, what was made last.
    """
    if not plan.sections:
        return plan, done
    step = plan.step_at(done)
    number = main_section(plan) if step is None else step.section
    if not plan.sections[number].order:
        number = _worked_before(plan, done)
    found = plan.by_section[number]
    return found.plan, found.done(done)


def main_section(plan: Plan) -> int:
    """Return the section that hangs when all is made."""
    last = next((step for step in reversed(plan.steps) if not _apart(plan, step)), plan.steps[-1])
    return last.section


def _apart(plan: Plan, step: PlannedStep) -> bool:
    return bool(plan.sections[step.section].name)


def _worked_before(plan: Plan, done: int) -> int:
    """Return the section with strands that was worked last, or is worked next."""
    with_strands = [step for step in plan.steps if plan.sections[step.section].order]
    before = [step for step in with_strands if step.first < done]
    return (before or with_strands[::-1])[-1].section


def is_apart(plan: Plan, done: int) -> str:
    """Return what is made apart at a count, `handle 1 of 2`; "" for the piece itself."""
    step = plan.step_at(done)
    if step is None or not plan.sections:
        return ""
    section = plan.sections[step.section]
    return (
        f"{section.name} {section.turn} of {section.turns}" if section.turns > 1 else section.name
    )
