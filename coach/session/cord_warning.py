"""The warning that a strand will not reach, in words."""

from collections.abc import Container

from coach.plan.plan_model import Plan
from coach.plan.wording.strand_names import strand_words
from coach.session.view_model import View
from coach.text import capital


def warning(plan: Plan, view: View, told: Container[int] = ()) -> str:
    """Say which strand will not reach, or nothing; those already `told` are left out."""
    short = next((left for left in view.short if left.strand not in told), None)
    if short is None:
        return ""
    name = capital(strand_words(plan, short.strand, view.order))
    if plan.strands[short.strand].origin == "added" and short.strand not in view.order:
        name += " still to be hung"
    if short.runs_out_at is None:
        return f"{name} will end with less than its tail."
    if short.runs_out_at < view.done:
        return f"{name} is into its tail already."
    return f"{name} will not reach: its cord is used up at tie {short.runs_out_at + 1}."
