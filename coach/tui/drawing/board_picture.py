"""The board as it hangs now, as rows of cells: what a maker holds against the work."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final, NamedTuple

from coach.plan.measure.slant import slants
from coach.plan.plan_model import Plan, PlannedStep
from coach.plan.sections import at_hand
from coach.plan.standing import order_at
from coach.tui.drawing.canvas import Stack
from coach.tui.drawing.cells import UNICODE, Cell, Glyphs, Line
from coach.tui.drawing.labels import label_lines
from coach.tui.drawing.picture_window import MARGIN, Picture, window
from coach.tui.drawing.plain_step_patches import plain_patches
from coach.tui.drawing.recent_steps import recent_steps
from coach.tui.drawing.step_patches import Frame, Patch, Room, knotted

_PITCHES: Final = (5, 4, 3)
_SLANT_PITCHES: Final = (4, 3)  # closer together, a line down for each tie looks as steep as it is
_WINDOW_PITCH: Final = 3
_TIGHT: Final = 2
_STEPS_A_LINE: Final = 2  # how many steps are looked back on for each line
_RUN: Final = 5  # how many ties of one run are drawn at most
_ROOMY: Final = 9  # lines from which on there is room for words below and ties of two lines


class BoardDrawing:
    """Draws the board of one plan, count by count.

    The steps above the one at hand lie the same for all its counts, and stacking some dozens of
    them takes ten times as long as the rest: they are kept until another step is at hand.
    """

    def __init__(self, plan: Plan, glyphs: Glyphs = UNICODE) -> None:
        self._plan = plan
        self._glyphs = glyphs
        self._slanting = slants(plan.steps, closed=plan.project.start.closed)
        self._above: tuple[_Stacked, Stack] | None = None
        self._board: tuple[Plan, BoardDrawing] | None = None

    def picture(self, done: int, width: int, height: int) -> Picture:
        """Draw the board after `done` counts on `height` rows of `width` cells.

        From above: the steps just made, the step at hand as far as it has got, the cords as they
        hang now, their position numbers and their cords' initials. A row that lies slanting is
        drawn a line lower with each tie where there is room. Work that is wider shows the part
        where the hands are.
        """
        plan, made = at_hand(self._plan, done)
        if plan is not self._plan:  # work on more than one board: the one at hand
            return self._of(plan).picture(made, width, height)
        order = order_at(plan, done)
        roomy = height >= _ROOMY
        pitches = _SLANT_PITCHES if roomy and any(self._slanting) else _PITCHES
        frame = _frame(len(order), width, self._glyphs, pitches)
        labels = label_lines(plan, done, frame, order, words=roomy)[: max(0, height - 1)]
        rows = [*self._made(done, frame, max(0, height - len(labels)), roomy=roomy), *labels]
        return window(rows, frame, order, plan.counts[done] if done < plan.total else None, width)

    def _of(self, plan: Plan) -> "BoardDrawing":
        """Return the drawing of one of the plan's boards, kept until another is at hand."""
        if self._board is None or self._board[0] is not plan:
            self._board = plan, BoardDrawing(plan, self._glyphs)
        return self._board[1]

    def _made(self, done: int, frame: Frame, room: int, *, roomy: bool) -> list[Line]:
        """Return what stands above the labels: what is made as far as it fits, and cords from it.

        The tie at hand is always among it, with cords below it.
        """
        if not room:
            return []
        hanging = min(room, 2 if roomy else 1)
        most = min(_RUN, max(2, room - hanging - 1))
        steps, top = recent_steps(self._plan, done, frame, _STEPS_A_LINE * room)
        stack = (
            self._stack(steps, frame, most, roomy=roomy)
            if steps
            else Stack(frame, order_at(self._plan, done))
        )
        return _Lines(self._plan, done, frame, room).joined(top, stack, hanging)

    def _stack(
        self, steps: Sequence[tuple[PlannedStep, int]], frame: Frame, most: int, *, roomy: bool
    ) -> Stack:
        """Stack steps with how many counts of each are made; the newest comes first."""
        (newest, made), oldest = steps[0], steps[-1][0].index
        wanted = _Stacked(oldest, newest.index, frame, most, roomy)
        if self._above is None or self._above[0] != wanted:
            self._above = wanted, self._earlier(wanted)
        stack = self._above[1].copy()
        for patch in self._patches(newest, made, wanted):
            stack.put(patch, 0)
        return stack

    def _earlier(self, wanted: "_Stacked") -> Stack:
        """Return the whole steps before the newest as they lie when it begins."""
        steps = self._plan.steps[wanted.oldest : wanted.newest]
        stack = Stack(wanted.frame, self._plan.steps[wanted.oldest].before)
        for step in steps:
            for patch in self._patches(step, step.counts, wanted):
                stack.put(patch, wanted.newest - step.index)
        return stack

    def _patches(self, step: PlannedStep, made: int, wanted: "_Stacked") -> Iterable[Patch]:
        """Return the patches of a step of which so many counts are made."""
        slanting = wanted.roomy and self._slanting[step.index]
        room = Room(wanted.most, wanted.roomy, slanting=slanting)
        patches = knotted(self._plan, step, made, wanted.frame, room)
        if patches is not None:
            return patches
        return plain_patches(step, wanted.frame, roomy=wanted.roomy) if made else ()


class _Stacked(NamedTuple):
    """Which steps are stacked, by their indices, and for what room."""

    oldest: int
    newest: int
    frame: Frame
    most: int
    roomy: bool


def _frame(strands: int, width: int, glyphs: Glyphs, pitches: Sequence[int]) -> Frame:
    """Choose how far apart the cords hang, and where the first one does."""
    gaps = max(1, strands - 1)
    for pitch in (*pitches, _TIGHT):
        margin = MARGIN if pitch > _TIGHT else 1
        if gaps * pitch + 2 * margin < width:
            return Frame((width - gaps * pitch) // 2, pitch, glyphs)
    return Frame(MARGIN, _WINDOW_PITCH, glyphs)


@dataclass(frozen=True, slots=True)
class _Lines:
    """What is drawn above the labels after `done` counts; `room` is how many lines it has."""

    plan: Plan
    done: int
    frame: Frame
    room: int

    def joined(self, top: Sequence[Line], stack: Stack, hanging: int) -> list[Line]:
        """Return what the work hangs from, the work, and the cords below it.

        Args:
            top: What the work hangs from, as far as it is seen.
            stack: The work.
            hanging: How many lines of cords there are at least below the tie at hand.
        """
        hands = stack.below(self._hands(order_at(self.plan, self.done))) + len(top)
        last = self._last_line(stack.height + len(top), hands, hanging)
        lines = [*top, *stack.lines(last)][:last]
        return self._finished(lines, hands, stack.worked_below(last - len(top) - 1))

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
