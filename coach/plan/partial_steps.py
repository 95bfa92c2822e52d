"""Stretches: the parts of a step left in its midst, each a step with its own board."""

from collections.abc import Iterator
from dataclasses import replace

from coach.plan.board_at_count import standing
from coach.plan.steps import PlannedStep, Unfolded
from coach.project.model import AroundKnot, Braid, GroupKnot, OwnTied


def partial_steps(plan: Unfolded, step: PlannedStep, low: int, high: int) -> Iterator[PlannedStep]:
    """Yield the steps for the counts of one step from `low` up to `high`.

    Args:
        plan: The plan that the step is of.
        step: The step; a row is only divided between strands.
        low: The first of its counts, from 0.
        high: The one after the last.
    """
    own = _groups_of(step)
    size = step.counts // own if own else step.counts
    while low < high:
        inside = low % size
        end = min(high, low + size - inside)
        if not inside and own:
            end = max(end, low + (high - low) // size * size)
        yield _part(plan, step, low, end)
        low = end


def _groups_of(step: PlannedStep) -> int:
    """Return how many groups a step ties one after the other; 0 for a row or a plait."""
    return 0 if step.role in ("row", "weave", "braid") else len(step.groups)


def _part(plan: Unfolded, step: PlannedStep, low: int, high: int) -> PlannedStep:
    before, after = standing(plan, step, low), standing(plan, step, high)
    part = replace(
        step, first=step.first + low, counts=high - low, before=before, after=after,
        earlier=step.earlier + low, later=step.later + step.counts - high,
    )  # fmt: skip
    if step.role in ("row", "weave"):
        return _row(step, part, low, high)
    if step.role == "braid":
        return _braid(plan, step, part, low)
    return _knots(step, part, low, high)


def _row(step: PlannedStep, part: PlannedStep, low: int, high: int) -> PlannedStep:
    mover, *crossed = step.groups[0]
    times = step.counts // len(crossed)
    return replace(part, groups=((mover, *crossed[low // times : high // times]),))


def _knots(step: PlannedStep, part: PlannedStep, low: int, high: int) -> PlannedStep:
    size = step.counts // len(step.groups)
    groups = step.groups[low // size : -(-high // size)]
    changed = tuple(tuple(_as_now(group, step, part)) for group in groups)
    source = step.source
    if isinstance(source, GroupKnot | OwnTied | AroundKnot) and (high - low) < size:
        source = replace(source, times=high - low)
    return replace(part, groups=changed, source=source)


def _as_now(group: tuple[int, ...], step: PlannedStep, part: PlannedStep) -> Iterator[int]:
    """Yield a group's strands as they hang at a stretch, by their places at the step's start."""
    at = {strand: place for place, strand in enumerate(step.before)}
    for strand in group:
        yield part.before[at[strand]] if strand in at else strand


def _braid(plan: Unfolded, step: PlannedStep, part: PlannedStep, low: int) -> PlannedStep:
    """Return the rest of a plait: after an odd number of crossings the other hand begins."""
    source = step.source
    if isinstance(source, Braid):
        source = replace(source, crossings=part.counts)
    first = plan.counts[part.first]
    moving, middle = set(first.knotters), set(first.fillers)
    every = [strand for strand in part.before if any(strand in group for group in step.groups)]
    third = {strand for strand in every if strand not in moving | middle}
    bundles = sorted(
        (tuple(s for s in every if s in bundle) for bundle in (moving, middle, third)),
        key=lambda bundle: every.index(bundle[0]),
    )
    mirrored = step.mirrored != bool(low % 2)
    groups = tuple(b[::-1] for b in reversed(bundles)) if mirrored else tuple(bundles)
    return replace(part, source=source, groups=groups, mirrored=mirrored)
