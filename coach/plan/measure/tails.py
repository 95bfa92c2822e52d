"""The tail that must be left of each strand below its last knot."""

from collections.abc import Sequence

from coach.plan.steps import Unfolded
from coach.project.model import LayAside, Trim


def tails(plan: Unfolded) -> tuple[float, ...]:
    """Return each strand's tail in mm: its cord's, or more where a cut leaves more."""
    cords = plan.project.cords
    found = [cords[strand.cord].tail_mm for strand in plan.strands]
    for step in plan.steps:
        source = step.source
        if isinstance(source, LayAside) and source.leave_mm is not None:
            for strand in step.groups[0]:
                found[strand] = max(found[strand], source.leave_mm)
        elif isinstance(source, Trim):
            for strand, leave in trimmed_mm(source, step.groups[0]).items():
                found[strand] = max(found[strand], leave)
    return tuple(found)


def trimmed_mm(trim: Trim, strands: Sequence[int]) -> dict[int, float]:
    """Return what a cut leaves of each strand, in mm: one length, or a line to the middle.

    Args:
        trim: The cut: the outermost strands keep `leave`, the middle one `middle`.
        strands: The strands from the left.
    """
    if trim.middle_mm is None:
        return dict.fromkeys(strands, trim.leave_mm)
    half = (len(strands) - 1) / 2
    longer = trim.middle_mm - trim.leave_mm
    return {
        strand: trim.leave_mm + longer * (1 - abs(place - half) / half if half else 1.0)
        for place, strand in enumerate(strands)
    }
