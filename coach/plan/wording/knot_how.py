"""How the knot at hand is tied: a known one, begun as the file says, or one of the maker's own."""

from coach.knots.explanation import How, Side, begun_over, how, own_how
from coach.plan.plan_model import Plan
from coach.project import model

__all__ = ["How", "how_at", "own_hows"]


def how_at(plan: Plan, number: int, side: Side | None = None) -> How:
    """Return how the knot of count `number` is tied, begun on its own side or the one asked for.

    Raises KeyError for a count without a knot.
    """
    knot = plan.counts[number].knot
    own = plan.project.knots.get(knot)
    if own:
        return own_how(own.name, own.strands, own.how)
    source = plan.step_of(number).source
    told = how(knot, side)
    return begun_over(told) if isinstance(source, model.Row) and source.first == "over" else told


def own_hows(project: model.Project) -> dict[str, How]:
    """Return how each knot of the maker's own is tied, by name."""
    return {
        name: own_how(own.name, own.strands, own.how, own.order)
        for name, own in project.knots.items()
    }
