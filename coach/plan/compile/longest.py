"""Which strand is expected to have most cord left, for steps in which the longest one ties."""

from dataclasses import replace

from coach.plan.compile.left_open import among
from coach.plan.cord.cut_lengths import Cutting
from coach.plan.measure.tension import NOMINAL
from coach.plan.plan_model import Plan, remeasured
from coach.plan.steps import PlannedStep
from coach.project.model import AroundKnot


def longest_expected(plan: Plan) -> dict[int, int]:
    """Return which of the named strands ties in open steps that nobody has decided.

    It is worked out in average hands: what a maker's own measures show later changes no tie.

    Returns:
        Places among the strands as the file names them, from 0, by the number of the open step;
        without those at 0, where the first one named has most left.
    """
    steps = [s for s in plan.steps if isinstance(s.source, AroundKnot) and s.source.among]
    if not steps:
        return {}
    usual = remeasured(plan, NOMINAL)
    found = {step.open_number: _longest(usual, step) for step in steps}
    return {number: place for number, place in found.items() if place}


def _longest(plan: Plan, step: PlannedStep) -> int:
    strands = named_strands(step)
    shares = _shares(plan, strands)
    left = [shares[s] - plan.used_mm(s, step.first) for s in strands]
    most = max(left)
    return next(place for place, mm in enumerate(left) if mm > most - _ALIKE_MM)


_ALIKE_MM = 0.5  # less is no difference that a hand could see
_SPARE = 0.1  # of every cut, where the file leaves that to the risk


def named_strands(step: PlannedStep) -> tuple[int, ...]:
    """Return the strands of which the longest ties, as the file names them."""
    source, here = step.source, step.window
    if not isinstance(source, AroundKnot):
        return ()
    return tuple(here[(at - 1) % len(here)] for at in among(source, len(here)))


def _shares(plan: Plan, strands: tuple[int, ...]) -> dict[int, float]:
    """Return the length that each strand hangs with; equal where they are cut and folded alike.

    Work that is still to come then changes nothing of what is expected, while there is cord enough.
    """
    own = {plan.strands[strand].cord for strand in strands}
    if len(own) == 1 and plan.project.cords[own.pop()].fold != "fit":
        return dict.fromkeys(strands, 0.0)
    spare = plan.project.margin if plan.project.margin is not None else _SPARE
    cutting = Cutting(replace(plan, project=replace(plan.project, margin=spare)))
    cuts = zip(cutting.groups, cutting.lengths_mm(0.0), strict=True)
    lengths = {piece.label: length for group, length in cuts for piece in group}
    found = cutting.shares_mm(lengths)
    return {strand: found.get(strand, 0.0) for strand in strands}
