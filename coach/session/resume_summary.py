"""What a returning maker looks for: the last steps made, and the strands of the next tie."""

from collections.abc import Sequence
from typing import Final

from coach.plan.board_at_count import order_at
from coach.plan.plan_model import Plan
from coach.plan.wording.place_words import step_line
from coach.plan.wording.strand_names import span_words, strand_short
from coach.text import join_words

_NAMED: Final = 2


def latest_steps(plan: Plan, done: int, most: int) -> tuple[str, ...]:
    """Return the last steps made, the latest first, the current one with its count.

    Args:
        plan: The plan.
        done: How many counts are made.
        most: How many steps to return at most.
    """
    step = plan.step_at(done)
    last = step.index if step else len(plan.steps)
    lines = []
    if step and step.earlier + done > step.first:
        made = step.earlier + done - step.first
        lines.append(f"{made} of {step.of}: {step_line(plan, step.index)}")
    lines += [step_line(plan, index) for index in range(last - 1, max(-1, last - 1 - most), -1)]
    return tuple(lines[:most])


def strands_by_role(plan: Plan, done: int) -> tuple[tuple[str, str], ...]:
    """Return the strands of the next tie, with the role of each: `holder`, `knotters`."""
    step = plan.step_at(done)
    if step is None or not plan.counts[done].knot:
        return ()
    count, order = plan.counts[done], order_at(plan, done)
    holds = step.role in ("row", "weave") and count.fillers[:1] == (step.mover,)
    parts = [("knotter", count.knotters), ("holder" if holds else "filler", count.fillers)]
    return tuple(
        (f"{part}s" if len(strands) > 1 else part, _who(plan, strands, order))
        for part, strands in (reversed(parts) if holds else parts)
        if strands
    )


def _who(plan: Plan, strands: Sequence[int], order: Sequence[int]) -> str:
    """Return the names of one or two strands; for a bundle only its positions."""
    if len(strands) > _NAMED:
        return span_words(sorted(order.index(strand) + 1 for strand in strands if strand in order))
    return join_words([strand_short(plan, strand, order) for strand in strands])
