"""The warning whether flat round work lies flat: circumference against radius.

A round whose strands take more room side by side than the circumference has ruffles; one whose
strands would have to reach further sideways than the gap lets them draws in and cups. Geometry:
the circumference is 2 pi r.
"""

from collections.abc import Iterator
from math import pi
from typing import Final

from coach.plan.lengths import centimetres
from coach.plan.measure.measure import contact_mm
from coach.plan.plan_model import Plan, PlannedStep
from coach.project.model import Net
from coach.yaml_reader.diagnostics import Problem, Span

_RUFFLES: Final = 1.05  # more room than there is; less is within the model's own range
_CUPS: Final = 1.5  # times as far sideways as the gap is long: then the gap is drawn in


def disc_lies_flat(plan: Plan) -> Iterator[Problem]:
    """Yield a warning for the first round that will ruffle, and the first that will cup."""
    if not plan.project.start.flat:
        return
    contact = contact_mm(plan, plan.hands)
    told: set[str] = set()
    for step in plan.steps:
        if not step.groups or not plan.counts[step.first].knot:
            continue
        found = _ruffled(plan, step, contact) or _cupped(plan, step, contact)
        if found and found.code not in told:
            told.add(found.code)
            yield found


def _round_mm(plan: Plan, step: PlannedStep) -> float:
    """Return the circumference where a round ends."""
    return pi * plan.height_mm[step.end]


def _ruffled(plan: Plan, step: PlannedStep, contact: list[float]) -> Problem | None:
    wide, around = sum(contact[strand] for strand in step.before), _round_mm(plan, step)
    if wide <= _RUFFLES * around:
        return None
    message = (
        f"{len(step.before)} strands side by side take {centimetres(round(wide))}, and this round "
        f"is {centimetres(round(around))} long: it will ruffle."
    )
    hint = "Add fewer pieces here, add them later, or leave a gap before this round."
    return _warning("RUFFLE", step.source.about.span, message, hint)


def _cupped(plan: Plan, step: PlannedStep, contact: list[float]) -> Problem | None:
    source, groups = step.source, len(step.groups)
    if not isinstance(source, Net) or step.net_row <= 1 or not source.gap_mm:
        return None
    own = max(sum(contact[strand] for strand in group) for group in step.groups)
    sideways = (_round_mm(plan, step) / groups - own) / 2
    if sideways <= _CUPS * source.gap_mm:
        return None
    message = (
        f"To this round the strands reach {centimetres(round(sideways))} sideways across a gap of "
        f"{centimetres(source.gap_mm)}: the disc will draw in and cup."
    )
    hint = "Add pieces before this round, or leave a longer gap."
    return _warning("CUP", step.source.about.span, message, hint)


def _warning(code: str, span: Span, message: str, hint: str) -> Problem:
    return Problem(code, span, message, hint, "warning")
