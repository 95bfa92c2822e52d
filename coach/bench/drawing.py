"""The board as it hangs now, as rows of cells: what a maker holds against the work."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import islice
from typing import Final

from coach.bench.blocks import TURNED_OVER, Frame, block
from coach.bench.cells import BLANK, UNICODE, Cell, Glyphs, Line
from coach.bench.labels import label_lines
from coach.bench.stack import Stack
from coach.bench.standing import order_at, standing
from coach.plan.model import Count, Plan, PlannedStep

_PITCHES: Final = (6, 5, 4, 3)
_WINDOW_PITCH: Final = 3
_TIGHT: Final = 2
_MARGIN: Final = 3
_STEPS_A_LINE: Final = 2  # how many steps are looked back on for each line
_RUN: Final = 5  # how many ties of one run are drawn at most
_ROOMY: Final = 9  # lines from which on there is room for words below the strands


@dataclass(frozen=True, slots=True)
class Picture:
    """Rows of cells, each `width` long. `columns` is where each strand hangs, or None outside."""

    rows: tuple[tuple[Cell, ...], ...]
    columns: dict[int, int]

    def text(self) -> str:
        """The characters alone, a line for each row."""
        return "\n".join("".join(cell.char for cell in row).rstrip() for row in self.rows)


def picture(plan: Plan, done: int, width: int, height: int, glyphs: Glyphs = UNICODE) -> Picture:
    """Draw the board after `done` counts on `height` rows of `width` cells.

    From above: the steps just made, the step at hand as far as it has got, the cords as they
    hang now, their position numbers and their cords' initials. Work that is wider shows the
    part where the hands are.
    """
    order = order_at(plan, done)
    frame = _frame(plan, len(order), width, glyphs)
    labels = label_lines(plan, done, frame, order, words=height >= _ROOMY)[: max(0, height - 1)]
    room = max(0, height - len(labels))
    hanging = min(room, 2 if room > 4 else 1)  # noqa: PLR2004 - lines
    rows = [*_made(plan, done, frame, room, hanging), *labels]
    return _window(rows, frame, order, plan.counts[done] if done < plan.total else None, width)


def _frame(plan: Plan, strands: int, width: int, glyphs: Glyphs) -> Frame:
    """Choose how far apart the cords hang, and where the first one does."""
    gaps = max(1, strands - 1)
    for pitch in (*_PITCHES, _TIGHT):
        margin = _MARGIN if pitch > _TIGHT else 1
        if gaps * pitch + 2 * margin < width:
            return Frame((width - gaps * pitch) // 2, pitch, glyphs)
    del plan
    return Frame(_MARGIN, _WINDOW_PITCH, glyphs)


def _made(plan: Plan, done: int, frame: Frame, room: int, hanging: int) -> list[Line]:
    """Give `room` lines: what is made as far as it fits, and the cords that hang from it.

    The tie at hand is always among them, with `hanging` lines below it.
    """
    steps, top = _lately(plan, done, frame, _STEPS_A_LINE * room)
    order = order_at(plan, done)
    stack = Stack(frame, steps[-1][0].before if steps else order)
    below = 0
    for age, (step, made) in reversed(list(enumerate(steps))):
        drawn = block(plan, step, made, frame, min(_RUN, max(2, room - hanging - 1)))
        if drawn:
            below = stack.put(step, drawn, standing(plan, step, made), age)
    lines = [*top, *stack.lines(room)]
    last = max(room, below + len(top) + hanging)
    lines += [frame.cords(order)] * (last - len(lines))
    cords = _hanging(plan, done, frame, order)
    shown = [dict(line) for line in lines[last - room : last]]
    for line in shown[len(shown) - (last - below - len(top)) :]:
        line.update({x: cell for x, cell in cords.items() if cell.part != "cord"})
    return [*shown[:-1], cords] if shown else []


def _lately(
    plan: Plan, done: int, frame: Frame, most: int
) -> tuple[list[tuple[PlannedStep, int]], list[Line]]:
    """Give at most so many steps, the newest first, and the line they hang from if all are there.

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
    return steps, [_bar(frame, first, frame.glyphs.bar)]


def _backward(plan: Plan, done: int) -> Iterable[tuple[PlannedStep, int]]:
    """Give the step at hand and those before it, each with how many counts are made."""
    step = plan.step_at(done)
    unfolded = step.unfolded if step else False
    last = step.index if step else len(plan.steps)
    if step:
        yield step, done - step.first
    for before in reversed(plan.steps[:last]):
        if before.unfolded != unfolded:
            return
        yield before, before.counts


def _bar(frame: Frame, order: Sequence[int], char: str) -> Line:
    xs = frame.columns(order).values()
    return {x: Cell(char, "bar") for x in range(min(xs) - 1, max(xs) + 2)}


def _hanging(plan: Plan, done: int, frame: Frame, order: Sequence[int]) -> Line:
    """Draw the cords below the work, those of the tie at hand in a shape of their own."""
    line = frame.cords(order)
    if done >= plan.total:
        return line
    count = plan.counts[done]
    for strand, x in frame.columns(order).items():
        if strand in count.knotters:
            line[x] = Cell(frame.glyphs.knotting, "knotting", strand)
        elif strand in count.fillers:
            line[x] = Cell(frame.glyphs.holding, "holding", strand)
    return line


def _window(
    rows: Sequence[Line], frame: Frame, order: Sequence[int], count: Count | None, width: int
) -> Picture:
    """Cut out the part that fits, so that it follows the hands in half-window strides."""
    at = frame.columns(order)
    whole = frame.left + (len(order) - 1) * frame.pitch + _MARGIN + 1
    start = 0
    if whole > width:
        hands = [at[s] for s in (*count.knotters, *count.fillers) if s in at] if count else []
        start = _start(hands or [0], whole, width)
    cut = [tuple(line.get(x, BLANK) for x in range(start, start + width)) for line in rows]
    if whole > width:
        cut = [_edged(row, frame.glyphs, start > 0, start + width < whole) for row in cut]
    inside = {strand: x - start for strand, x in at.items() if 0 <= x - start < width}
    return Picture(tuple(cut), inside)


def _start(hands: Sequence[int], whole: int, width: int) -> int:
    """Give the first column shown: a multiple of half the width, the hands well inside."""
    stride = max(1, width // 2)
    middle = (min(hands) + max(hands)) // 2
    wanted = round((middle - width / 2) / stride) * stride
    return max(0, min(wanted, whole - width))


def _edged(row: tuple[Cell, ...], glyphs: Glyphs, left: bool, right: bool) -> tuple[Cell, ...]:
    """Put the sign that there is more at the sides where there is."""
    before, after = glyphs.more
    first = (Cell(before, "edge"), BLANK) if left else row[:2]
    last = (BLANK, Cell(after, "edge")) if right else row[-2:]
    return (*first, *islice(row, 2, len(row) - 2), *last)
