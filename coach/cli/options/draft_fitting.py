"""A new project file fitted to the width and length that were asked for."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Final

from coach.plan.from_text import read_plan
from coach.plan.plan_model import Plan
from coach.plan.resize.refit import CannotRefit, to_length
from coach.project.drafts.answers import Answers
from coach.project.drafts.designs import DESIGNS, MOTIF
from coach.project.drafts.project_draft import draft
from coach.quantities import length_mm, show_length

_FIRST: Final = 4  # repeats, or a shoulder of as many mm, to begin the search with
_TURNS: Final = 8


@dataclass(frozen=True, slots=True)
class FittedDraft:
    """A project's text, its plan, and why it misses the length asked for; "" if it does not."""

    text: str
    plan: Plan
    told: str = ""


def fit_draft(answers: Answers) -> FittedDraft:
    """Return a draft whose length comes nearest to the one asked for."""
    vary = DESIGNS[answers.kind].vary
    text = draft(answers, _FIRST)
    plan = _plan(text)
    try:
        wish = to_length(plan.project, length_mm(answers.length)).wish
    except CannotRefit:
        least = _plan(text := draft(answers, 1))
        length = show_length(least.length_mm)
        return FittedDraft(text, least, f"With these strands and knots {length} is the shortest.")
    amount = wish.repeats[MOTIF] if vary == MOTIF else round(wish.lengths[vary])
    text = draft(answers, amount)
    return FittedDraft(text, _plan(text))


def _plan(text: str) -> Plan:
    reading = read_plan(text)
    if reading.plan is None:
        raise AssertionError(f"a draft is not sound: {reading.problems[0].message}")
    return reading.plan


def fit_width(answers: Answers, width_mm: float) -> Answers:
    """Return the answers with the number of strands whose work comes nearest to a width."""
    design = DESIGNS[answers.kind]

    def with_strands(strands: float) -> Answers:
        return replace(answers, strands=design.strands_near(strands))

    return _nearest(with_strands, width_mm, answers.strands)


def _nearest(made: Callable[[float], Answers], width_mm: float, strands: int) -> Answers:
    tried: dict[int, float] = {}
    found = made(strands)
    for _ in range(_TURNS):
        if found.strands in tried:
            break
        tried[found.strands] = _plan(draft(found, 1)).width_mm
        found = made(found.strands * width_mm / tried[found.strands])
    return made(min(tried, key=lambda n: abs(tried[n] - width_mm)))
