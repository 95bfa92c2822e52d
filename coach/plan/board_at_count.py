"""The order of the strands at any count, and a name for a place in the work."""

from typing import Final

from coach.knots.names import HALF_KNOT, REVERSE_HALF_KNOT
from coach.plan.steps import Count, PlannedStep, Unfolded
from coach.project.model import OwnTied

END: Final = "end"
"""The name of the spot after the last count."""
_EXCHANGING: Final = (HALF_KNOT, REVERSE_HALF_KNOT)


def knot_name_at(plan: Unfolded, done: int) -> str:
    """Return the name of the knot that comes after `done` counts, "" where there is none."""
    return plan.counts[done].knot if done < plan.total else ""


def order_at(plan: Unfolded, done: int) -> tuple[int, ...]:
    """Return the strands as they hang after a count.

    Args:
        plan: The plan.
        done: How many counts are made, from 0 to `plan.total`.

    Returns:
        The indices of the strands, from the left; those laid aside are left out.
    """
    step = plan.step_at(done)
    return plan.finish if step is None else standing(plan, step, done - step.first)


def standing(plan: Unfolded, step: PlannedStep, made: int) -> tuple[int, ...]:
    """Return the strands as they hang in the middle of a step.

    Args:
        plan: The plan that the step is of.
        step: The step.
        made: How many of its counts are made, from 0 to all of them.

    Returns:
        The indices of the strands, from the left.
    """
    if made <= 0:
        return step.before
    if made >= step.counts:
        return step.after
    if step.role in ("row", "weave"):
        return _travelled(step, strands_passed(step, made))
    if isinstance(step.source, OwnTied):
        return _in_own_knots(plan, step, made)
    order = step.before
    for count in plan.counts[step.first : step.first + made]:
        order = order_after_exchange(order, count, step.role)
    return order


def strands_passed(step: PlannedStep, made: int) -> int:
    """Return how many strands the mover of a row has passed after `made` ties."""
    crossed = len(step.groups[0]) - 1
    return made * crossed // step.counts


def order_after_exchange(order: tuple[int, ...], count: Count, role: str) -> tuple[int, ...]:
    """Return the order after one count of a step that changes it within a group.

    Args:
        order: The indices of the strands from the left, before the count.
        count: The count.
        role: The role of its step; in a plait bundles cross, strands of a half knot swap.
    """
    if role == "braid" and count.fillers:
        return _refilled(order, _crossed(order, count))
    if count.knot in _EXCHANGING and all(knotter in order for knotter in count.knotters):
        first, second = map(order.index, count.knotters)
        swapped = list(order)
        swapped[first], swapped[second] = order[second], order[first]
        return tuple(swapped)
    return order


def _in_own_knots(plan: Unfolded, step: PlannedStep, made: int) -> tuple[int, ...]:
    """Put the groups into the order in which the next of their own knots takes them up."""
    at = {strand: place for place, strand in enumerate(step.before)}
    order, size = list(step.before), step.counts // len(step.groups)
    for number, group in enumerate(step.groups):
        next_tie = max(made, number * size)
        places = [at[strand] for strand in group]
        inside = next_tie < (number + 1) * size
        now = plan.counts[step.first + next_tie].knotters if inside else ()
        for turn, place in enumerate(places):
            order[place] = now[turn] if inside else step.after[place]
    return tuple(order)


def _travelled(step: PlannedStep, gone: int) -> tuple[int, ...]:
    """Close up the first `gone` crossed strands behind the mover."""
    mover, *crossed = step.groups[0]
    at = {strand: place for place, strand in enumerate(step.before)}
    places = [at[strand] for strand in step.groups[0]]
    order = list(step.before)
    for place, strand in zip(places, (*crossed[:gone], mover, *crossed[gone:]), strict=True):
        order[place] = strand
    return tuple(order)


def _crossed(order: tuple[int, ...], count: Count) -> tuple[int, ...]:
    """Return the strands of two neighbouring bundles, from the left, once they have crossed."""
    from_left = order.index(count.knotters[0]) < order.index(count.fillers[0])
    first, second = (
        (count.fillers, count.knotters) if from_left else (count.knotters, count.fillers)
    )
    return (*first, *second)


def _refilled(order: tuple[int, ...], strands: tuple[int, ...]) -> tuple[int, ...]:
    """Put strands, in this order, into the places that they hold between them."""
    coming = iter(strands)
    return tuple(next(coming) if strand in strands else strand for strand in order)


def stretch_end(plan: Unfolded, step: PlannedStep) -> int:
    """Return the count after the last one of a step that is made without leaving it."""
    while step.later and step.index + 1 < len(plan.steps):
        after = plan.steps[step.index + 1]
        if after.earlier != step.earlier + step.counts or after.of != step.of:
            break
        step = after
    return step.end


def place_at(plan: Unfolded, done: int) -> tuple[str, int]:
    """Return a name for the step of the next count, and the tie within it, from 0.

    Repeats, groups and mirrored turns of one step have the same name. It includes the knot, so that
    a note does not turn up at other work after the project was edited.
    """
    step = plan.step_at(done)
    if step is None:
        return END, 0
    levels = "/".join(f"{visit.name} {visit.step}" for visit in step.trail)
    knot = plan.counts[step.first].knot
    net = f" row {step.net_row}" if step.net_row else ""
    return f"{levels}: {knot or step.role}{net}", step.earlier + done - step.first
