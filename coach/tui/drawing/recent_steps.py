"""The steps that a picture of the board can show, and the mounting if it reaches that far up."""

from collections import Counter
from collections.abc import Iterable, Sequence
from itertools import pairwise
from typing import Final

from coach.knots.geometry import LOOPED
from coach.knots.names import LARKS_HEAD, REVERSE_LARKS_HEAD
from coach.plan.board_at_count import order_at
from coach.plan.measure.strand_ends import hanging_method
from coach.plan.plan_model import Plan, PlannedStep
from coach.tui.drawing.board_frame import ColumnGrid
from coach.tui.drawing.cells import Cell, Line
from coach.tui.drawing.plain_step_patches import TURNED_OVER
from coach.tui.drawing.solid.solid_cords import LIGHT, SHADE, bars, two_bars

_COUNTS: Final = 3000  # that are looked back on at most; more would delay the first picture


def recent_steps(
    plan: Plan, done: int, frame: ColumnGrid, most: int
) -> tuple[list[tuple[PlannedStep, int]], list[Line]]:
    """Return the steps that `most` lines can show, newest first, and the mounting.

    They go back until every strand has been worked that often, to a step on all of them: from
    there on all hang level. The mounting is included if all steps are. Turning the work over, or
    moving its seam, hides what was made before.

    Args:
        plan: The plan.
        done: How many counts are made.
        frame: The columns of the strands.
        most: The lines that there are.

    Returns:
        The steps, each with how many of its counts are made, and the lines of the mounting.
    """
    steps: list[tuple[PlannedStep, int]] = []
    worked: Counter[int] = Counter()
    few = set(order_at(plan, done))
    counts, newest = 0, plan.step_at(done)
    for step, made in _backward(plan, done):
        if made and isinstance(step.source, TURNED_OVER):
            return steps, [_bar(frame, step.after, frame.glyphs.cut)]
        if counts > _COUNTS:
            return steps, []
        steps.append((step, made))
        if step is newest:
            continue  # what is made of it does not tell how far back the others go
        counts += made
        ties = 1 if step.role in ("row", "weave") else made // max(1, len(step.groups))
        own = {s for group in step.groups for s in group}
        for strand in own if ties else ():
            worked[strand] += ties
            if worked[strand] >= most:
                few.discard(strand)
        if not few and made and own.issuperset(step.before):
            return steps, []
    first = steps[-1][0].before if steps else plan.start
    unfolded = bool(steps) and steps[-1][0].unfolded
    hung = [] if unfolded else _hung(plan, frame, first)
    return steps, [_bar(frame, first, frame.glyphs.bar), *hung]


def _hung(plan: Plan, frame: ColumnGrid, order: Sequence[int]) -> list[Line]:
    """Draw the lark's heads by which the pieces hang; one for all where a nest is looped."""
    way = hanging_method(plan.project.start)
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
        if frame.glyphs.wide:
            line |= _solid_head(frame, one, (at[one], at[other]), behind=way == REVERSE_LARKS_HEAD)
            continue
        if way != REVERSE_LARKS_HEAD:  # its bar lies behind
            for x in range(at[one] + 1, at[other]):
                line[x] = Cell(frame.glyphs.ramp[0], "knot", one)
        line[at[one]] = Cell(frame.glyphs.head[0][0], "knot", one)
        line[at[other]] = Cell(frame.glyphs.head[0][1], "knot", other)
    return [line]


def _solid_head(frame: ColumnGrid, strand: int, xs: tuple[int, int], *, behind: bool) -> Line:
    """Draw a lark's head: the bar across both its strands, in front or behind."""
    wide = frame.glyphs.wide
    between = range(xs[0] + wide, xs[1])
    line = {} if behind else two_bars(strand, between, LIGHT, SHADE)
    for x in (range(xs[0], xs[0] + wide), range(xs[1], xs[1] + wide)):
        line |= bars(strand, x, SHADE if behind else LIGHT)
    return line


def _backward(plan: Plan, done: int) -> Iterable[tuple[PlannedStep, int]]:
    """Yield the current step and those before it, each with how many counts are made."""
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


def _bar(frame: ColumnGrid, order: Sequence[int], char: str) -> Line:
    xs = frame.over(frame.columns(order).values())
    return {x: Cell(char, "bar") for x in range(xs.start - 1, xs.stop + 1)}
