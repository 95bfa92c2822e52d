"""The warning that a strand will not reach, in words."""

from coach.plan.plan_model import Plan
from coach.plan.wording.strand_names import strand_label
from coach.session.view_model import View


def warning(plan: Plan, view: View) -> str:
    """Say which strand will not reach, or nothing."""
    short = next((left for left in view.cords if left.short), None)
    if short is None:
        return ""
    name = strand_label(plan, short.strand)
    if short.runs_out_at is None:
        return f"{name} will end with less than its tail."
    if short.runs_out_at < view.done:
        return f"{name} is into its tail already."
    return f"{name} will not reach: its cord is used up at tie {short.runs_out_at + 1}."
