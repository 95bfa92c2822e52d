"""Floats, strands that run beside the work from one tie to the next, and their greatest length."""

from typing import Final

from coach.plan.plan_model import Plan
from coach.yaml_reader.diagnostics import Span

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
