"""Open steps, which leave a choice to the maker, and which strand is likely the longest."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from coach.board.board import Board
from coach.plan.compile.step_context import refuse
from coach.plan.doubt.cut_lengths import Cutting
from coach.plan.plan_model import Plan, remeasured
from coach.plan.steps import PlannedStep
from coach.plan.tension import NOMINAL
from coach.project import model
from coach.project.model import AroundKnot


@dataclass(slots=True)
class LeftOpen:
    """Numbers open steps as they come and replaces each by the step as chosen.

    Attributes:
        chosen: The maker's choices, by the number of the step.
        expected: Which strand is expected to have most left, by the number of the step: its place
            among those named, from 0.
        number: How many open steps have come.
    """

    chosen: Mapping[int, model.Choice]
    expected: Mapping[int, int] = field(default_factory=dict)
    number: int = 0
    _made: dict[tuple[int, object], model.Step] = field(default_factory=dict)

    def taken(self, step: model.Step, board: Board) -> tuple[int, model.Step]:
        """Return an open step's number and the step as worked; -1 and itself for any other."""
        if not step.about.open_to:
            return -1, step
        number = self.number
        self.number += 1
        choice = self.chosen.get(number)
        if isinstance(step, model.AroundKnot) and step.among:
            place = int(choice.value) if choice and choice.what == "knotter" else None
            place = self.expected.get(number, 0) if place is None else place
            return number, self._once(step, place, board)
        return number, self._once(step, choice) if choice else step

    def _once(self, step: model.Step, chosen: object, board: Board | None = None) -> model.Step:
        """Return the step as chosen, always the same object, by which its lines are cached."""
        many = len(board.here) if board else 0
        key = (id(step), (chosen, many))
        if key not in self._made:
            if isinstance(chosen, model.Choice):
                self._made[key] = as_chosen(step, chosen)
            elif isinstance(step, model.AroundKnot) and isinstance(chosen, int):
                self._made[key] = _tied_by(step, chosen, many)
        return self._made[key]


def as_chosen(step: model.Step, choice: model.Choice) -> model.Step:
    """Return a step with the maker's choice put in, or itself if it leaves nothing open."""
    if choice.what not in {what for what, _ in step.about.open_to}:
        return step
    number = max(1, int(choice.value))
    match choice.what, step:
        case "times", (model.GroupKnot() | model.AroundKnot() | model.OwnTied()):
            return replace(step, times=number)
        case "turns", model.AroundKnot():
            return replace(step, turns=number)
        case "length", (model.Gathering() | model.Braid() | model.Space()):
            return replace(step, length_mm=choice.value)
        case "length", (model.Picot() | model.FoldBack()):
            return replace(step, loop_mm=choice.value)
        case _:
            return step


def among(step: model.AroundKnot, many: int) -> tuple[int, ...]:
    """Return the positions of the strands of which the longest is to tie.

    Args:
        step: The step.
        many: How many strands are on the board.
    """
    named = step.among
    if named is None or named.everything:
        return tuple(range(1, many + 1))
    return named.items


def _tied_by(step: model.AroundKnot, place: int, many: int) -> model.Step:
    """Return a knot tied by one of some strands round the others. Raises Misfit."""
    named, items = step.among, among(step, many)
    if named is None or len(items) < 2:  # noqa: PLR2004 - one to tie round another
        message = "The longest is chosen among two strands or more."
        raise refuse("STRANDS", step.about.span, message, "Name them all: ‘strands: 1-4’.")
    at = items[min(max(place, 0), len(items) - 1)]
    return replace(
        step,
        knotter=replace(named, items=(at,), everything=False),
        around=replace(named, items=tuple(i for i in items if i != at), everything=False),
    )


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
