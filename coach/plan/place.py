"""The name of a place in the work that is the same in every repeat, and in every piece."""

from coach.plan.plan_model import Plan

END = "end"


def place_at(plan: Plan, done: int) -> tuple[str, int]:
    """Return the step of the count about to be made, by its written place, and the tie within it.

    Repeats, groups and mirrored turns of one step have the same name; the knot stands in it, so
    that an edited project does not bring a note up at other work. The tie counts from 0.
    """
    step = plan.step_at(done)
    if step is None:
        return END, 0
    levels = "/".join(f"{visit.name} {visit.step}" for visit in step.trail)
    knot = plan.counts[step.first].knot
    net = f" row {step.net_row}" if step.net_row else ""
    return f"{levels}: {knot or step.role}{net}", done - step.first
