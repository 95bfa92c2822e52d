"""The steps that a picture of the board shows, and what they hang from if it reaches so far up."""

from collections.abc import Iterable, Sequence
from itertools import pairwise

from coach.knots.geometry import LOOPED
from coach.knots.names import LARKS_HEAD, REVERSE_LARKS_HEAD
from coach.plan.measure.mounting import way_of_hanging
from coach.plan.plan_model import Plan, PlannedStep
from coach.tui.drawing.cells import Cell, Line
from coach.tui.drawing.plain_step_patches import TURNED_OVER
from coach.tui.drawing.step_patches import Frame


def recent_steps(
    plan: Plan, done: int, frame: Frame, most: int
) -> tuple[list[tuple[PlannedStep, int]], list[Line]]:
    """Return at most so many steps, the newest first, and what they hang from if all are there.

    Work that was turned over or counted anew hides what was made before.
    """
    steps: list[tuple[PlannedStep, int]] = []
    for step, made in _backward(plan, done):
        if made and isinstance(step.source, TURNED_OVER):
            return steps, [_bar(frame, step.after, frame.glyphs.cut)]
        if len(steps) == most:
            return steps, []
        steps.append((step, made))
    first = steps[-1][0].before if steps else plan.start
    unfolded = bool(steps) and steps[-1][0].unfolded
    hung = [] if unfolded else _hung(plan, frame, first)
    return steps, [_bar(frame, first, frame.glyphs.bar), *hung]


def _hung(plan: Plan, frame: Frame, order: Sequence[int]) -> list[Line]:
    """Draw the lark's heads by which the pieces hang; one for all where a nest is looped."""
    way = way_of_hanging(plan.project.start)
    if way not in (LARKS_HEAD, REVERSE_LARKS_HEAD, LOOPED):
        return []
    at = frame.columns(order)
    line = frame.cords(order)
    nested = plan.project.start.layout == "nest"
    pairs = [(order[0], order[-1])] if nested else list(pairwise(order))
    for one, other in pairs:
        first, second = plan.strands[one], plan.strands[other]
        if first.single or (first.cord, first.piece) != (second.cord, second.piece):
            continue
        if way != REVERSE_LARKS_HEAD:  # its bar lies behind
            for x in range(at[one] + 1, at[other]):
                line[x] = Cell(frame.glyphs.ramp[0], "knot", one)
        line[at[one]] = Cell(frame.glyphs.head[0][0], "knot", one)
        line[at[other]] = Cell(frame.glyphs.head[0][1], "knot", other)
    return [line]


def _backward(plan: Plan, done: int) -> Iterable[tuple[PlannedStep, int]]:
    """Yield the step at hand and those before it, each with how many counts are made."""
    step = plan.step_at(done)
    unfolded = step.unfolded if step else False
    last = step.index if step else len(plan.steps)
    if step:
        yield step, done - step.first
    for index in reversed(range(last)):
        before = plan.steps[index]
        if before.unfolded != unfolded:
            return
        yield before, before.counts


def _bar(frame: Frame, order: Sequence[int], char: str) -> Line:
    xs = frame.columns(order).values()
    return {x: Cell(char, "bar") for x in range(min(xs) - 1, max(xs) + 2)}
