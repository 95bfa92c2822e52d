"""Sentences for the choices that open steps leave to the maker."""

from typing import Final, Literal, TypeAlias

from coach.plan.compile.open_choices import named_strands
from coach.plan.plan_model import Plan
from coach.plan.steps import PlannedStep
from coach.plan.wording.strand_names import strand_words
from coach.project import model
from coach.project.step_basics import Openness
from coach.quantities.formatting import centimetres
from coach.text import capital, join_words

What: TypeAlias = Literal["times", "turns", "length", "knotter"]

_ENDS: Final = {"knotter": "lets another tie"}


def open_to(step: PlannedStep) -> tuple[Openness, ...]:
    """Return what a step leaves open, as its file has it."""
    return step.asked.about.open_to if step.asked else ()


def figure_asked_for(plan: Plan, step: PlannedStep, what: What) -> str:
    """Return what the file asks for: `about 30 times`, `4 turns or more`, or who is longest.

    Args:
        plan: The plan, for the names of strands.
        step: The step as it is planned.
        what: What of it is left open.
    """
    if what == "knotter":
        knotter = named_strands(step)[0] if step.mover is None else step.mover
        return f"{strand_words(plan, knotter, step.before)} is expected to have most left"
    figure = centimetres(asked_mm(step)) if what == "length" else _many(step, what)
    return f"{figure} or more" if (what, "more") in open_to(step) else f"about {figure}"


def _many(step: PlannedStep, what: What) -> str:
    number = asked_number(step, what)
    return f"{number} {what if number > 1 else what.removesuffix('s')}"


def asked_number(step: PlannedStep, what: What) -> int:
    """Return the times or turns that the file asks for."""
    asked = step.asked
    if what == "turns":
        return asked.turns if isinstance(asked, model.AroundKnot) else 1
    return asked.times if isinstance(asked, _TIED) else 1


_TIED: Final = (model.GroupKnot, model.AroundKnot, model.OwnTied)


def asked_mm(step: PlannedStep) -> float:
    """Return the length that the file asks for, in mm."""
    asked = step.asked
    if isinstance(asked, model.Picot | model.FoldBack):
        return asked.loop_mm
    if isinstance(asked, model.Gathering | model.Space | model.Braid):
        return asked.length_mm or 0.0
    return 0.0


def open_offer(plan: Plan, step: PlannedStep, key: str) -> str:
    """Return the line that says which choice a step leaves, and which key enters it.

    Args:
        plan: The plan.
        step: The current step; "" is returned if it leaves nothing open.
        key: The name of the key.
    """
    asked = [(what, figure_asked_for(plan, step, what)) for what, _ in open_to(step)]
    if not asked:
        return ""
    end = _ENDS.get(asked[0][0], "says what you made")
    return f"{capital(join_words([said for _, said in asked]))}; {key} {end}."


def made_each(step: PlannedStep, done: int) -> int:
    """Return how many ties are made in the current group of a step tied in groups."""
    groups = len(step.asked.groups.members) if isinstance(step.asked, _GROUPED) else 1
    size = max(1, step.of // max(1, groups))
    made = step.earlier + min(max(done - step.first, 0), step.counts)
    return made - (made - 1) // size * size if made else 0


_GROUPED: Final = (model.GroupKnot, model.OwnTied)
