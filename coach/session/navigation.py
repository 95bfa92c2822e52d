"""Finding a place in the work by repeats and steps, as a maker counts them on the work."""

from collections import defaultdict
from dataclasses import dataclass
from typing import Literal

from coach.plan.plan_model import Plan, PlannedStep, Visit
from coach.quantities import show_length

_NAMED = 3  # cords that are told by name


@dataclass(frozen=True, slots=True)
class Field:
    """One figure of a place: repeat `value` of `most`, or step, at a level of nested parts."""

    level: int
    kind: Literal["turn", "step"]
    label: str
    value: int
    most: int


def place_figures(step: PlannedStep) -> tuple[Field, ...]:
    """Return the figures of a step's place, from the outermost part to the step."""
    found = []
    for level, visit in enumerate(step.trail):
        if visit.turns > 1:
            found.append(Field(level, "turn", visit.name or "repeat", visit.turn, visit.turns))
    last = step.trail[-1]
    label = f"{last.name} step" if last.turns == 1 and last.name else "step"
    return (*found, Field(len(step.trail) - 1, "step", label, last.step, last.steps))


def with_figure(plan: Plan, step: PlannedStep, field: Field, value: int) -> PlannedStep | None:
    """Return the step whose place differs from another one's in one figure.

    Args:
        plan: The plan of the piece.
        step: The step that is looked at.
        field: The figure that changes, one of `fields(step)`.
        value: Its new value.

    Returns:
        The step most like `step` in the parts inside; None where there is no such place.
    """
    trail = step.trail
    outer = trail[: field.level]
    level = field.level

    def fits(other: PlannedStep) -> bool:
        if len(other.trail) <= level or other.trail[:level] != outer:
            return False
        there, here = other.trail[level], trail[level]
        if (there.name, there.turns) != (here.name, here.turns):
            return False
        if field.kind == "turn":
            return there.turn == value
        return (there.turn, there.step) == (here.turn, value)

    def likeness(other: PlannedStep) -> tuple[bool, ...]:
        inner = zip(other.trail[level + 1 :], trail[level + 1 :], strict=False)
        same = (part for one, two in inner for part in (one.turn == two.turn, _same(one, two)))
        return (_same(other.trail[level], trail[level]), *same)

    return max(filter(fits, plan.steps), key=likeness, default=None)


def _same(one: Visit, two: Visit) -> bool:
    return (one.name, one.step) == (two.name, two.step)


def append_digit(field: Field, before: int, digit: int) -> int:
    """Return a figure after one more digit was typed: 1, then 12.

    Args:
        field: The field that is typed in, with its greatest value.
        before: The figure before; 0 for none.
        digit: The digit, 0 to 9; beyond the greatest value the figure begins anew with it.
    """
    longer = 10 * before + digit
    return longer if 0 < longer <= field.most else min(digit, field.most)


def ties_between(plan: Plan, first: int, end: int) -> int:
    """Return how many of the counts from `first` to before `end` are ties.

    Args:
        plan: The plan.
        first: The number of the first count, from 0.
        end: The number of the one after the last.
    """
    return sum(1 for count in plan.counts[first:end] if count.knot)


def given_back(plan: Plan, done: int, to: int) -> str:
    """Return how much of each cord undoing ties frees.

    Args:
        plan: The plan.
        done: How many counts are made.
        to: How many are to stay made.
    """
    freed: dict[str, float] = defaultdict(float)
    for number, strand in enumerate(plan.strands):
        freed[strand.cord] += plan.used_mm(number, done) - plan.used_mm(number, to)
    most = sorted(((mm, cord) for cord, mm in freed.items() if mm >= 1), reverse=True)
    return ", ".join(f"{_about(mm)} of {cord}" for mm, cord in most[:_NAMED])


def _about(mm: float) -> str:
    """Return a length rounded to its accuracy: to 5 mm below 10 cm, else to 1 cm."""
    step = 5.0 if mm < 100 else 10.0  # noqa: PLR2004 - ten centimetres
    return show_length(max(step, step * round(mm / step)))


def unpicking(plan: Plan, done: int, to: int) -> str:
    """Return how many ties going back undoes, and the cord that it frees.

    Args:
        plan: The plan.
        done: How many counts are made.
        to: How many are to stay made.
    """
    ties = ties_between(plan, to, done)
    what = f"{ties} {'tie' if ties == 1 else 'ties'} to unpick"
    back = given_back(plan, done, to)
    if not ties:
        what = f"{done - to} back, no tie among them"
    return f"{what}; that gives back about {back}" if back else what
