"""What must be left of each strand below its last knot."""

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
            for strand, leave in _cut(source, step.groups[0]):
                found[strand] = max(found[strand], leave)
    return tuple(found)


def _cut(trim: Trim, strands: tuple[int, ...]) -> list[tuple[int, float]]:
    """Return what a cut leaves of each strand: one length, or a line down to the middle."""
    if trim.middle_mm is None:
        return [(strand, trim.leave_mm) for strand in strands]
    half = (len(strands) - 1) / 2
    cuts = []
    for place, strand in enumerate(strands):
        share = 1 - abs(place - half) / half if half else 1.0
        cuts.append((strand, trim.leave_mm + share * (trim.middle_mm - trim.leave_mm)))
    return cuts
