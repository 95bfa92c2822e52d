"""The board as it hangs now, as rows of cells: what a maker holds against the work."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import islice, pairwise
from typing import Final

from coach.knots.geometry import LOOPED
from coach.knots.names import LARKS_HEAD, REVERSE_LARKS_HEAD
from coach.plan.measure.mounting import way_of_hanging
from coach.plan.measure.slant import slants
from coach.plan.plan_model import Count, Plan, PlannedStep
from coach.plan.standing import order_at
from coach.tui.drawing.canvas import Stack
from coach.tui.drawing.cells import BLANK, UNICODE, Cell, Glyphs, Line
from coach.tui.drawing.labels import label_lines
from coach.tui.drawing.plain_step_patches import TURNED_OVER, plain_patches
from coach.tui.drawing.step_patches import Frame, Patch, Room, knotted

_PITCHES: Final = (5, 4, 3)
_SLANT_PITCHES: Final = (4, 3)  # closer together, a line down for each tie looks as steep as it is
_WINDOW_PITCH: Final = 3
_TIGHT: Final = 2
_MARGIN: Final = 3
_SIGN: Final = 2  # columns that the sign of more work takes at a side
_STEPS_A_LINE: Final = 2  # how many steps are looked back on for each line
_RUN: Final = 5  # how many ties of one run are drawn at most
_ROOMY: Final = 9  # lines from which on there is room for words below and ties of two lines


@dataclass(frozen=True, slots=True)
class Picture:
    """Rows of cells, each `width` long. `columns` is where each strand hangs, or None outside."""

    rows: tuple[tuple[Cell, ...], ...]
    columns: dict[int, int]

    def text(self) -> str:
        """The characters alone, a line for each row."""
        return "\n".join("".join(cell.char for cell in row).rstrip() for row in self.rows)


class _Same:
    """A plan as a key that is compared by what it is, not by what is in it."""

    def __init__(self, plan: Plan) -> None:
        self.plan = plan

    def __hash__(self) -> int:
        return id(self.plan)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Same) and self.plan is other.plan


@lru_cache(maxsize=4)
def _slanting(key: _Same) -> tuple[bool, ...]:
    return tuple(slants(key.plan.steps, closed=key.plan.project.start.closed))


def picture(plan: Plan, done: int, width: int, height: int, glyphs: Glyphs = UNICODE) -> Picture:
    """Draw the board after `done` counts on `height` rows of `width` cells.

    From above: the steps just made, the step at hand as far as it has got, the cords as they
    hang now, their position numbers and their cords' initials. A row that lies slanting is drawn
    a line lower with each tie where there is room. Work that is wider shows the part where the
    hands are.
    """
    order = order_at(plan, done)
    roomy = height >= _ROOMY
    slanting = roomy and any(_slanting(_Same(plan)))
    frame = _frame(len(order), width, glyphs, _SLANT_PITCHES if slanting else _PITCHES)
    labels = label_lines(plan, done, frame, order, words=roomy)[: max(0, height - 1)]
    room = max(0, height - len(labels))
    drawing = _Drawing(plan, done, frame, room)
    rows = [*drawing.made(roomy=roomy), *labels]
    return _window(rows, frame, order, plan.counts[done] if done < plan.total else None, width)


def _frame(strands: int, width: int, glyphs: Glyphs, pitches: Sequence[int]) -> Frame:
    """Choose how far apart the cords hang, and where the first one does."""
    gaps = max(1, strands - 1)
    for pitch in (*pitches, _TIGHT):
        margin = _MARGIN if pitch > _TIGHT else 1
        if gaps * pitch + 2 * margin < width:
            return Frame((width - gaps * pitch) // 2, pitch, glyphs)
    return Frame(_MARGIN, _WINDOW_PITCH, glyphs)


@dataclass(frozen=True, slots=True)
class _Drawing:
    """What is drawn above the labels; `room` is how many lines it has."""

    plan: Plan
    done: int
    frame: Frame
    room: int

    def made(self, *, roomy: bool) -> list[Line]:
        """Return the lines: what is made as far as it fits, and the cords that hang from it.

        The tie at hand is always among them, with cords below it.
        """
        if not self.room:
            return []
        hanging = min(self.room, 2 if roomy else 1)
        steps, top = _lately(self.plan, self.done, self.frame, _STEPS_A_LINE * self.room)
        order = order_at(self.plan, self.done)
        most = min(_RUN, max(2, self.room - hanging - 1))
        stack = self._stacked(steps, most, roomy=roomy) if steps else Stack(self.frame, order)
        hands = stack.below(self._hands(order)) + len(top)
        last = self._last_line(stack.height + len(top), hands, hanging)
        lines = [*top, *stack.lines(last)][:last]
        return self._finished(lines, hands, stack.worked_below(last - len(top) - 1))

    def _stacked(
        self, steps: Sequence[tuple[PlannedStep, int]], most: int, *, roomy: bool
    ) -> Stack:
        """Stack steps, the newest first; those before it are stacked once for all its counts."""
        (newest, made), oldest = steps[0], steps[-1][0].index
        key = _Same(self.plan)
        stack = _earlier(key, oldest, newest.index, self.frame, most, roomy=roomy).copy()
        for patch in _patches(key, newest, made, self.frame, most, roomy=roomy):
            stack.put(patch, 0)
        return stack

    def _hands(self, order: Sequence[int]) -> list[int]:
        """Return the columns that the count at hand works on; all of them where it has none."""
        at = self.frame.columns(order)
        count = self.plan.counts[self.done] if self.done < self.plan.total else None
        own = [at[s] for s in (*count.knotters, *count.fillers) if s in at] if count else []
        return own or list(at.values())

    def _last_line(self, deepest: int, hands: int, hanging: int) -> int:
        """Return where the picture ends: below all work, unless that would hide the hands."""
        above = min(3, self.room // 3)
        lowest = max(hands + hanging, hands - 1 - above + self.room)
        return max(self.room, min(deepest + hanging, lowest))

    def _finished(self, lines: list[Line], hands: int, deeper: set[int]) -> list[Line]:
        """Put the cords at hand in shapes of their own, and all cords on the last line.

        Where the work goes on further down than the picture, its last line says so.
        """
        cords = _hanging(self.plan, self.done, self.frame, order_at(self.plan, self.done))
        at_hand = {x: cell for x, cell in cords.items() if cell.part != "cord"}
        slack = self.frame.glyphs.slack
        shown = [
            {**line, **at_hand} if number >= hands else line
            for number, line in enumerate(lines[-self.room :], start=max(0, len(lines) - self.room))
        ]
        cords |= {
            x: cords[x]._replace(char=slack) for x in deeper & cords.keys() if x not in at_hand
        }
        return [*shown[:-1], cords]


@lru_cache(maxsize=4)
def _earlier(
    key: _Same, oldest: int, newest: int, frame: Frame, most: int, *, roomy: bool
) -> Stack:
    """Return the whole steps before the newest as they lie when it begins; only to be copied."""
    stack = Stack(frame, key.plan.steps[oldest].before)
    for index in range(oldest, newest):
        for patch in _whole(key, index, frame, most, roomy=roomy):
            stack.put(patch, newest - index)
    return stack


@lru_cache(maxsize=256)
def _whole(key: _Same, index: int, frame: Frame, most: int, *, roomy: bool) -> tuple[Patch, ...]:
    """Return the patches of a step of which all is made."""
    step = key.plan.steps[index]
    return tuple(_patches(key, step, step.counts, frame, most, roomy=roomy))


def _patches(
    key: _Same, step: PlannedStep, made: int, frame: Frame, most: int, *, roomy: bool
) -> Iterable[Patch]:
    """Return the patches of a step of which so many counts are made."""
    room = Room(most, roomy, slanting=roomy and _slanting(key)[step.index])
    patches = knotted(key.plan, step, made, frame, room)
    if patches is not None:
        return patches
    return plain_patches(step, frame, roomy=roomy) if made else ()


def _lately(
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


def _hanging(plan: Plan, done: int, frame: Frame, order: Sequence[int]) -> Line:
    """Draw the cords below the work, those of the tie at hand in a shape of their own."""
    line = frame.cords(order)
    if done >= plan.total:
        return line
    count = plan.counts[done]
    if not count.knot and plan.step_of(done).role != "braid":
        return line
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
    cut = [_part_of(line, start, width) for line in rows]
    if whole > width:
        cut = [_edged(row, frame.glyphs, start > 0, start + width < whole) for row in cut]
    low = _SIGN if whole > width and start > 0 else 0
    high = width - (_SIGN if start + width < whole else 0)
    inside = {strand: x - start for strand, x in at.items() if low <= x - start < high}
    return Picture(tuple(cut), inside)


def _part_of(line: Line, start: int, width: int) -> tuple[Cell, ...]:
    """Return the cells of a line from a column on; a number or word that is cut in two is left out.

    The first two and the last two columns may be taken by the signs that there is more.
    """
    edges = (
        ((start + _SIGN, 1), (start + width - _SIGN - 1, -1))
        if start
        else ((width - _SIGN - 1, -1),)
    )
    out = set()
    for edge, way in edges:
        x = edge
        while _continues(line, x, x - way) and line[x - way] != BLANK:
            out.add(x)
            if not _continues(line, x + way, x):
                break
            x += way
    columns = range(start, start + width)
    return tuple([BLANK if x in out else line.get(x, BLANK) for x in columns])


def _continues(line: Line, x: int, beside: int) -> bool:
    """Whether two neighbouring cells are characters of one number or word."""
    return all(at in line and line[at].part in ("number", "here", "word") for at in (x, beside))


def _start(hands: Sequence[int], whole: int, width: int) -> int:
    """Return the first column shown: a multiple of half the width, the hands well inside."""
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
