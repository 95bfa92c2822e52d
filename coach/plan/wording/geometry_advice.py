"""Warnings from geometry: floats that snag, and flat round work that will not lie flat."""

from collections.abc import Iterator
from math import pi
from typing import Final

from coach.plan.measure.measure import contact_mm
from coach.plan.plan_model import Plan, PlannedStep
from coach.project.model import Net
from coach.quantities.formatting import centimetres
from coach.yaml_reader.diagnostics import Problem, Span

LONG_LOOSE_MM: Final = 80.0
"""How far a strand may run behind or beside any work before it snags: rough, no source."""

MOST_CORDS: Final = 15.0
"""Times its own thickness that a float keeps its place by stiffness: common practice, no source."""

MOST_WIDTHS: Final = 1.25
"""Widths of the work that a float may be long: common practice, no source.

One as long as the work is wide is the open edge of a shape, such as the corner under a slant.
"""


def longest_float_mm(plan: Plan, strand: int) -> float:
    """Return how long a float of a strand may be, in mm, before it shows and snags."""
    cord = plan.project.cords[plan.strands[strand].cord]
    usual_mm = max(MOST_CORDS * cord.diameter_mm, MOST_WIDTHS * plan.width_mm)
    return min(LONG_LOOSE_MM, usual_mm)


def long_floats(plan: Plan) -> dict[Span, dict[int, float]]:
    """Return the longest float, in mm, of each strand that has one too long.

    They are grouped by the place in the file of the step that ends them, in the order of the work.
    """
    found: dict[Span, dict[int, float]] = {}
    for strand, ledger in sorted(enumerate(plan.ledgers), key=lambda pair: pair[1].float_at):
        if ledger.float_mm > longest_float_mm(plan, strand):
            span = plan.step_of(ledger.float_at).source.about.span
            found.setdefault(span, {})[strand] = ledger.float_mm
    return found


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
