"""Which of several boards is being worked at a count."""

from coach.plan.plan_model import Plan
from coach.plan.steps import PlannedStep


def current_section(plan: Plan, done: int) -> tuple[Plan, int]:
    """Return the plan of the board being worked, and how many of its counts are made.

    When all is made that is the piece itself; where it has no board, what was made last.
    """
    if not plan.sections:
        return plan, done
    step = plan.step_at(done)
    number = main_section(plan) if step is None else step.section
    if not plan.sections[number].order:
        number = _worked_before(plan, done)
    found = plan.by_section[number]
    return found.plan, found.done(done)


def boards(plan: Plan) -> list[Plan]:
    """Return the plan of each board that has strands, the one that hangs at the end first."""
    main = main_section(plan)
    numbers = [number for number, section in enumerate(plan.sections) if section.order]
    return [plan.by_section[number].plan for number in sorted(numbers, key=lambda n: n != main)]


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
