"""Groups worked in any order: the maker picks which one comes next.

A plan stays one sequence of counts: picking another group reorders the counts that are still to be
made and leaves those made alone. A step left in its midst becomes two stretches, each a step.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import cast

from coach.plan.partial_steps import partial_steps
from coach.plan.section_plans import P, SectionPlan, section_plans
from coach.plan.steps import Arm, PlannedStep, Unfolded
from coach.project.model import RigidRow, Row


@dataclass(frozen=True, slots=True)
class ArmMade:
    """The progress of one group: `made` of its `of` counts, on the strands `window`."""

    arm: Arm
    made: int
    of: int
    window: tuple[int, ...]


def arms_at(plan: Unfolded, done: int) -> tuple[ArmMade, ...]:
    """Return the progress of each group that may be worked next, in the file's order.

    Args:
        plan: The plan.
        done: How many counts are made.

    Returns:
        Empty where the order is fixed.
    """
    step = plan.step_at(done)
    arm = step.arm if step else None
    if arm is None:
        return ()
    own = [s for s in plan.steps if (found := s.arm) and found.each == arm.each]
    numbers = sorted({s.arm.number for s in own if s.arm})
    return tuple(_made(Arm(arm.each, number), own, done) for number in numbers)


def _made(arm: Arm, steps: Sequence[PlannedStep], done: int) -> ArmMade:
    own = [step for step in steps if step.arm == arm]
    made = sum(min(max(done - step.first, 0), step.counts) for step in own)
    first = min(own, key=lambda step: step.first)
    return ArmMade(arm, made, sum(step.counts for step in own), _window(first))


def _window(step: PlannedStep) -> tuple[int, ...]:
    return tuple(strand for strand in step.before if strand in set(step.window))


def with_group_picked(plan: P, at: int, arm: Arm) -> P | None:
    """Return the plan with a group worked next, or None where it cannot be.

    Args:
        plan: The plan.
        at: How many counts are made; those keep their order.
        arm: The group.
    """
    step = plan.step_at(at)
    here = step.arm if step else None
    written = plan if plan.written is None else cast("P", plan.written)
    if step is None or here is None or here.each != arm.each or not can_leave(step, at):
        return None
    worked = plan.worked or tuple(range(plan.total))
    end = next(
        (s.first for s in plan.steps[step.index :] if not s.arm or s.arm.each != arm.each),
        plan.total,
    )
    arms = [written.step_of(count).arm for count in worked[at:end]]
    if arm not in arms:
        return None
    rest = sorted(worked[at:end], key=lambda count: (written.step_of(count).arm != arm, count))
    return reordered_plan(written, (*worked[:at], *rest, *worked[end:]))


def can_leave(step: PlannedStep, at: int) -> bool:
    """Return whether a step can be left for another group: not between two hitches of a strand."""
    each = step.source.times if isinstance(step.source, Row | RigidRow) else 1
    return (at - step.first) % each == 0


def reordered_plan(written: P, worked: tuple[int, ...]) -> P:
    """Return a plan with its counts in another order, the strands of its groups followed anew.

    Args:
        written: The plan in the file's order.
        worked: The index in it of each count, in the order worked.
    """
    steps: list[PlannedStep] = []
    standing = _entered(written)
    for step, low, high in _runs(written, worked):
        parts = partial_steps(written, step, low, high) if high - low < step.counts else (step,)
        for part in parts:
            first = steps[-1].end if steps else 0
            before, after = part.before, part.after
            if step.arm:
                before = standing[step.arm.each]
                after = standing[step.arm.each] = _changed(before, part)
            steps.append(replace(part, index=len(steps), first=first, before=before, after=after))
    return replace(
        written,
        steps=tuple(steps),
        counts=tuple(written.counts[count] for count in worked),
        finish=written.finish if len(worked) == written.total else steps[-1].after,
        written=written,
        worked=worked,
    )


def _runs(written: Unfolded, worked: Sequence[int]) -> Iterator[tuple[PlannedStep, int, int]]:
    """Yield each step that is worked in a stretch, with its first count in it and the one after."""
    at = 0
    cuts = [p for p, (one, two) in enumerate(pairwise(worked), start=1) if two != one + 1]
    for end in (*cuts, len(worked)):
        while at < end:
            step = written.step_of(worked[at])
            low = worked[at] - step.first
            high = min(step.counts, low + end - at)
            yield step, low, high
            at += high - low


def _entered(written: Unfolded) -> dict[int, tuple[int, ...]]:
    """Return the whole board as it hangs where each `each` in any order begins."""
    found: dict[int, tuple[int, ...]] = {}
    for step in written.steps:
        if step.arm:
            found.setdefault(step.arm.each, step.before)
    return found


def _changed(order: tuple[int, ...], part: PlannedStep) -> tuple[int, ...]:
    """Apply the change of a stretch to a board on which other groups have got elsewhere."""
    before, after = part.before, part.after
    gone, came = set(before) - set(after), set(after) - set(before)
    own = set(part.window) | came
    whole = [strand for strand in order if strand not in gone]
    for place, strand in enumerate(after):
        if strand in came:
            whole.insert(_beside(whole, after, place, own), strand)
    kept = [strand for strand in before if strand not in gone]
    moved = [strand for strand in after if strand not in came]
    changing = {old: new for old, new in zip(kept, moved, strict=True) if old != new}
    return tuple(changing.get(strand, strand) for strand in whole)


def _beside(whole: Sequence[int], after: Sequence[int], place: int, own: set[int]) -> int:
    """Return where a new strand goes: beside the one of its own group that it hangs beside."""
    if place and after[place - 1] in own:
        return whole.index(after[place - 1]) + 1
    right = next((s for s in after[place + 1 :] if s in own and s in whole), None)
    if right is not None:
        return whole.index(right)
    return whole.index(after[place - 1]) + 1 if place else 0


def sections_worked(plan: P, written: P) -> tuple[SectionPlan[P], ...]:
    """Return the section plans of a plan whose groups were worked in another order.

    Args:
        plan: The plan in the order worked.
        written: The same plan in the file's order.
    """
    found = []
    for own in section_plans(written):
        local = {count: number for number, count in enumerate(own.counts)}
        places = [place for place, count in enumerate(plan.worked) if count in local]
        worked = tuple(local[plan.worked[place]] for place in places)
        found.append(SectionPlan(own.section, reordered_plan(own.plan, worked), places))
    return tuple(found)
