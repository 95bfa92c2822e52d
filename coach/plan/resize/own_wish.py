"""Fitting a project to the length that its own `wish:` asks for."""

from dataclasses import replace

from coach.plan.plan_model import Plan
from coach.plan.resize.refit import CannotRefit, Refitted, as_wished, recompiled, to_length
from coach.plan.resize.size_request import Wish
from coach.project import model


def refitted_to_own_wish(plan: Plan) -> Refitted | None:
    """Return a plan refitted to its project's `wish:`, in the hands of the plan.

    A varied length is rounded to whole millimetres, as it would be measured off.

    Returns:
        None where the work as written comes nearest already, where nothing may vary, and where the
        wish is below the least; `check` warns of the last two.
    """
    project, size = plan.project, plan.project.size
    if size is None or size.wish_mm is None:
        return None
    try:
        found = to_length(project, size.wish_mm, plan.hands)
    except CannotRefit:
        return None
    lengths = {name: float(round(mm)) for name, mm in found.wish.lengths.items()}
    wish = replace(found.wish, lengths=lengths)
    wished = as_wished(project, wish)
    if _written(wished) == _written(project):
        return None
    return Refitted(recompiled(wished, plan.hands), found.changed, wish)


def _written(project: model.Project) -> tuple[object, ...]:
    return project.work, project.parts, project.apart


def own_wish(plan: Plan) -> Wish:
    """Return the changes that a plan's project asks for itself; empty where none help."""
    found = refitted_to_own_wish(plan)
    return found.wish if found else Wish()
