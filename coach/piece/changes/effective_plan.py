"""The plan that a piece follows: its project's, changed by all happenings.

What was made stays as it was made: a happening that would change it is refused.
"""

from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from coach.piece.changes.repeats import CannotFollow, as_fitted, as_repeated
from coach.piece.events import (
    Chosen,
    Ended,
    Happening,
    Picked,
    Reordered,
    Repeats,
    WentOn,
    Withdrew,
)
from coach.plan.board_at_count import standing, strands_passed
from coach.plan.compile.compiler import compile_project
from coach.plan.group_order import can_leave, with_group_picked
from coach.plan.plan_model import Count, Plan, PlannedStep
from coach.plan.steps import Arm
from coach.project import model

AT_THE_BENCH: Final = (Picked, Chosen)
"""What is chosen at the bench, one key for each, and taken back by one."""

_CHANGE_WHAT_COMES: Final = (Picked, Chosen, Repeats)


def in_force(happenings: Sequence[Happening]) -> tuple[Happening, ...]:
    """Return the happenings that the plan follows.

    A choice for a later place is dropped once something before it is chosen differently: that place
    may be another one then.
    """
    if not any(isinstance(happening, AT_THE_BENCH) for happening in happenings):
        return tuple(happenings)
    kept: list[Happening] = []
    for happening in happenings:
        if isinstance(happening, Withdrew):
            last = last_chosen(kept)
            kept = [one for one in kept if one is not last]
            continue
        # A pick further on was made for other counts.
        if isinstance(happening, _CHANGE_WHAT_COMES):
            kept = [one for one in kept if not _is_later(one, happening.at_done)]
        kept.append(happening)
    return tuple(kept)


def last_chosen(happenings: Sequence[Happening]) -> Happening | None:
    """Return the last choice that still holds, None where there is none."""
    return next((one for one in reversed(happenings) if isinstance(one, AT_THE_BENCH)), None)


def _is_later(happening: Happening, done: int) -> bool:
    return isinstance(happening, Picked) and happening.at_done > done


BETWEEN: Final = ", "
"""What stands between the names of strands in an order."""


def plan_after(base: Plan, happenings: Sequence[Happening]) -> Plan:
    """Return the plan after all happenings.

    Args:
        base: The plan that the piece began with, fitted already, in its hands.
        happenings: The happenings, in order.

    Raises:
        CannotFollow: A happening is impossible on this plan.
    """
    happenings = in_force(happenings)
    project = as_repeated(base.project, happenings)
    # Repeats and choices first, for they are part of the project; orders and picks change its plan.
    plan = base if project is base.project else _plan_of(project, base)
    for happening in happenings:
        if isinstance(happening, Reordered):
            plan = _reordered(plan, happening.at_done, happening.order.split(BETWEEN))
        elif isinstance(happening, Picked):
            plan = _picked(plan, happening)
    # Last, since it cuts off what all others have made of the plan.
    end = ended_at(happenings)
    if end is not None:
        plan = _cut_off(plan, end)
    return plan


def plan_at_start(base: Plan, happenings: Sequence[Happening]) -> Plan:
    """Return the plan that a piece began with: its project's, fitted to the maker's wish.

    Args:
        base: The plan of the project as written.
        happenings: The happenings, of which `Fitted` counts.

    Raises:
        CannotFollow: The project can no longer be fitted to it.
    """
    project = as_fitted(base.project, happenings)
    return base if project is base.project else _plan_of(project, base)


def ended_at(happenings: Sequence[Happening]) -> int | None:
    """Return the count at which the piece was ended early, or None."""
    last = next((h for h in reversed(happenings) if isinstance(h, Ended | WentOn)), None)
    return last.at_done if isinstance(last, Ended) else None


def is_same_so_far(old: Plan, new: Plan, done: int) -> bool:
    """Return whether two plans are the same work so far: the same ties of the same strands.

    Args:
        old: One plan.
        new: The other.
        done: How many counts to compare.
    """

    def told(plan: Plan) -> list[tuple[str, list[str], list[str]]]:
        # By name: an edited project may number its strands in another order.
        ids = [strand.id for strand in plan.strands]
        return [
            (c.knot, [ids[s] for s in c.knotters], [ids[s] for s in c.fillers])
            for c in plan.counts[:done]
        ]

    return done <= new.total and told(old) == told(new)


def _picked(plan: Plan, happening: Picked) -> Plan:
    """Return the plan with another group worked next. Raises CannotFollow."""
    step = plan.step_at(happening.at_done)
    if step and not can_leave(step, happening.at_done):
        raise CannotFollow("Finish the hitches of this strand first; then leave the group.")
    found = with_group_picked(plan, happening.at_done, Arm(happening.each, happening.arm))
    if found is None:
        raise CannotFollow(f"Group {happening.arm} cannot be worked next: nothing is left of it.")
    return found


def _plan_of(project: model.Project, base: Plan) -> Plan:
    compiled = compile_project(project, base.hands)
    if compiled.plan is None:
        raise CannotFollow(f"That cannot be made: {compiled.problems[0].message}")
    return compiled.plan


def _reordered(plan: Plan, at: int, names: Sequence[str]) -> Plan:
    """Return the plan with its strands in another order from the step that begins at `at`."""
    step = plan.step_at(at)
    if plan.written:  # from here on the order worked is the plan's own
        plan = replace(plan, written=None, worked=())
    if step is None or step.first != at or step.unfolded:
        raise CannotFollow("Strands can be put in another order at the start of a step only.")
    number = {strand.id: n for n, strand in enumerate(plan.strands)}
    found = [number.get(name, -1) for name in names]
    # Unknown names are -1 here, so this refuses them too.
    if sorted(found) != sorted(step.before):
        hanging = BETWEEN.join(plan.strands[s].id for s in step.before)
        raise CannotFollow(f"Every strand that hangs must be named once: {hanging}.")
    instead = dict(zip(step.before, found, strict=True))
    steps = (*plan.steps[: step.index], *(_with(s, instead) for s in plan.steps[step.index :]))
    counts = (*plan.counts[:at], *(_tied_by(c, instead) for c in plan.counts[at:]))
    return replace(plan, steps=steps, counts=counts, finish=_swap(plan.finish, instead))


def _swap(strands: tuple[int, ...], instead: dict[int, int]) -> tuple[int, ...]:
    return tuple(instead.get(strand, strand) for strand in strands)


def _with(step: PlannedStep, instead: dict[int, int]) -> PlannedStep:
    return replace(
        step,
        before=_swap(step.before, instead),
        after=_swap(step.after, instead),
        groups=tuple(_swap(group, instead) for group in step.groups),
        mover=None if step.mover is None else instead.get(step.mover, step.mover),
    )


def _tied_by(count: Count, instead: dict[int, int]) -> Count:
    return count._replace(
        knotters=_swap(count.knotters, instead),
        fillers=_swap(count.fillers, instead),
    )


def _cut_off(plan: Plan, done: int) -> Plan:
    """Return the plan up to what was made."""
    if not 0 < done <= plan.total:
        raise CannotFollow("Nothing of this piece is made yet, so it cannot end; just leave it.")
    last = plan.step_of(done - 1)
    steps = list(plan.steps[: last.index + 1])
    if done < last.end:
        steps[-1] = _begun(plan, last, done - last.first)
    return replace(
        plan, steps=tuple(steps), counts=plan.counts[:done], finish=steps[-1].after,
        worked=plan.worked[:done],
    )  # fmt: skip


def _begun(plan: Plan, step: PlannedStep, made: int) -> PlannedStep:
    """Return a step of which some counts are made, as if those were all of it."""
    groups = step.groups
    if step.role in ("row", "weave"):
        # The mover and the strands that it has passed; a row of nothing could not be drawn.
        groups = (groups[0][: 1 + max(1, strands_passed(step, made))],)
    return replace(step, counts=made, after=standing(plan, step, made), groups=groups)
