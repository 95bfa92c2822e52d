"""How the next knot is tied: one of the catalogue, or one of the maker's own."""

from coach.knots.explanation import (
    KnotExplanation,
    Side,
    begun_over,
    explain_knot,
    explain_own_knot,
)
from coach.plan.plan_model import Plan
from coach.project import model

__all__ = ["KnotExplanation", "how_at", "own_hows"]


def how_at(plan: Plan, number: int, side: Side | None = None) -> KnotExplanation:
    """Return how the knot of a count is tied.

    Args:
        plan: The plan.
        number: The index of the count.
        side: The side to begin on; None for the count's own.

    Raises:
        KeyError: The count has no knot.
    """
    knot = plan.counts[number].knot
    own = plan.project.knots.get(knot)
    if own:
        return explain_own_knot(own.name, own.strands, own.how)
    source = plan.step_of(number).source
    told = explain_knot(knot, side)
    return begun_over(told) if isinstance(source, model.Row) and source.first == "over" else told


def own_hows(project: model.Project) -> dict[str, KnotExplanation]:
    """Return how each of the maker's own knots is tied, by name."""
    return {
        name: explain_own_knot(own.name, own.strands, own.how, own.order)
        for name, own in project.knots.items()
    }
