"""The warning that a strand will not reach, in words."""

from collections.abc import Container
from typing import Final

from coach.plan.cord.cord_left import StrandLeft
from coach.plan.plan_model import Plan
from coach.plan.wording.strand_names import strand_words
from coach.quantities import show_length
from coach.session.view_model import View
from coach.settings.settings import Units
from coach.text import capital

_ALL: Final = 99  # in 100: that a strand is out of cord is told otherwise


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


def outlook_words(left: StrandLeft, units: Units = "cm") -> str:
    """Say what a strand's range means: the tail to leave, and the chance that it falls short."""
    tail = show_length(left.tail_mm, units)
    chance = round(left.falls_short * 100)
    if not chance:
        return f"tail {tail}; under 1 in 100 short"
    return f"tail {tail}; {min(chance, _ALL)} in 100 short"
