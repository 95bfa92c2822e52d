"""Validation of happenings before they are stored: joins, orders, choices, repeats, ends."""

from collections.abc import Sequence
from typing import Any, Final

from coach.piece.changes.effective_plan import (
    BETWEEN,
    in_force,
    is_same_so_far,
    last_chosen,
    plan_after,
)
from coach.piece.changes.repeat_search import RepeatTimes
from coach.piece.changes.repeats import CannotFollow
from coach.piece.entering.measure_events import Fields
from coach.piece.events import (
    Chosen,
    Ended,
    Happening,
    Joined,
    Picked,
    Reordered,
    Repeats,
    WentOn,
    Withdrew,
)
from coach.piece.learning.estimates import Known
from coach.plan.board_at_count import order_at
from coach.plan.plan_model import Plan
from coach.plan.steps import Arm, PlannedStep
from coach.plan.wording.strand_names import strand_label, strand_words
from coach.project.model import Choice
from coach.quantities import show_length

_NO_TIME: Final[dict[str, Any]] = {"at_ms": 0, "tick_ms": 0, "sitting": 0}
"""For a happening that is only tried; when it happened changes no plan."""


def join_event(
    known: Known, strand: int, length_mm: float, overlap_mm: float, done: int
) -> tuple[type[Happening], Fields]:
    """Return the happening of a new cord joined in.

    Args:
        known: The piece as its measures show it so far.
        strand: The index of the strand that continues with a new cord.
        length_mm: The length of the new cord.
        overlap_mm: How much of it lies beside the old one.
        done: How many counts are made.

    Returns:
        The class of the event, and its fields.

    Raises:
        CannotFollow: The new cord has no length, or the overlap takes all of it.
    """
    plan = known.plan
    name = strand_words(plan, strand, order_at(plan, done))
    if length_mm <= 0:
        raise CannotFollow(f"A new cord of no length cannot go on for {name}.")
    if overlap_mm >= length_mm:
        raise CannotFollow(
            f"The overlap, {show_length(overlap_mm)}, takes the whole new cord; it can be anything "
            f"under {show_length(length_mm)}."
        )
    return Joined, {
        "at_done": done, "total": plan.total, "strand": strand_label(plan, strand),
        "length_mm": length_mm, "overlap_mm": overlap_mm,
    }  # fmt: skip


def order_event(
    base: Plan, happenings: Sequence[Happening], names: Sequence[str], at: int
) -> tuple[type[Happening], Fields]:
    """Return the happening of strands found in another order.

    Args:
        base: The plan that the piece was begun with.
        happenings: The happenings before.
        names: The strands from the left as they were found to hang, by their own names: `clay.2b`.
        at: The first count of the step from which on they hang that way.

    Returns:
        The class of the event, and its fields.

    Raises:
        CannotFollow: These are not the strands that hang then, or the plan cannot go on that way.
    """
    return _followed(base, happenings, Reordered, at, order=BETWEEN.join(names))


def pick_event(
    base: Plan, happenings: Sequence[Happening], arm: Arm, done: int
) -> tuple[type[Happening], Fields]:
    """Return the happening of another group picked to be worked next.

    Args:
        base: The plan that the piece was begun with.
        happenings: The happenings before.
        arm: The group.
        done: How many counts are made.

    Raises:
        CannotFollow: Groups wait for each other here, or nothing is left of that one.
    """
    return _followed(base, happenings, Picked, done, each=arm.each, arm=arm.number)


def choice_event(
    base: Plan, happenings: Sequence[Happening], step: PlannedStep, chosen: Choice, done: int
) -> tuple[type[Happening], Fields]:
    """Return the happening of a choice at an open step.

    Args:
        base: The plan that the piece was begun with.
        happenings: The happenings before.
        step: The step, by the plan that is followed now.
        chosen: The choice.
        done: How many counts are made.

    Raises:
        CannotFollow: It would change what is made, or cannot be knotted.
    """
    fields: Fields = {
        "at_done": done, "total": 0, "step": step.open_number, "what": chosen.what,
        "value": chosen.value,
    }  # fmt: skip
    now = plan_after(base, happenings)
    plan = plan_after(base, (*happenings, Chosen(**_NO_TIME, **fields)))
    if not is_same_so_far(now, plan, done):
        raise CannotFollow(
            "That would change what is made already. Take back first, or leave it as it is."
        )
    return Chosen, {**fields, "total": plan.total}


def withdrawal_event(
    base: Plan, happenings: Sequence[Happening], done: int
) -> tuple[type[Happening], Fields] | None:
    """Return the happening that takes back a choice made at this count.

    Args:
        base: The plan that the piece was begun with.
        happenings: The happenings before.
        done: How many counts are made.

    Returns:
        The class of the event and its fields, None where nothing was chosen at this count.
    """
    last = last_chosen(in_force(happenings))
    if last is None or last.at_done != done:
        return None
    return _followed(base, happenings, Withdrew, done)


def repeats_event(turns: RepeatTimes, done: int) -> tuple[type[Happening], Fields]:
    """Return the happening of another number of repeats."""
    return Repeats, {
        "at_done": done, "total": turns.plan.total, "part": turns.part, "call": turns.call,
        "times": turns.times,
    }  # fmt: skip


def end_event(
    base: Plan, happenings: Sequence[Happening], done: int
) -> tuple[type[Happening], Fields]:
    """Return the happening that ends a piece before its plan ends.

    Args:
        base: The plan that the piece began with.
        happenings: The happenings before.
        done: How many counts are made.

    Returns:
        The class of the event and its fields.

    Raises:
        CannotFollow: Nothing is made yet.
    """
    fields: Fields = {"at_done": done, "total": done}
    plan_after(base, (*happenings, Ended(**_NO_TIME, **fields)))
    return Ended, fields


def reopen_event(
    base: Plan, happenings: Sequence[Happening], done: int
) -> tuple[type[Happening], Fields]:
    """Return the happening that a piece ended early goes on after all.

    Args:
        base: The plan that the piece began with.
        happenings: The happenings before.
        done: How many counts are made.

    Returns:
        The class of the event and its fields.
    """
    return _followed(base, happenings, WentOn, done)


def _followed(
    base: Plan, happenings: Sequence[Happening], kind: type[Happening], done: int, **what: Any
) -> tuple[type[Happening], Fields]:
    """Return a happening, its total of counts taken from the plan that follows it too.

    Raises:
        CannotFollow: The plan cannot follow it.
    """
    fields: Fields = {"at_done": done, "total": 0, **what}
    plan = plan_after(base, (*happenings, kind(**_NO_TIME, **fields)))
    return kind, {**fields, "total": plan.total}
