"""The picture of the board as it hangs now, as rows of cells."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import chain
from typing import Final

from coach.plan.board_at_count import order_at
from coach.plan.measure.slant import slants
from coach.plan.plan_model import Plan, PlannedStep
from coach.plan.sections import boards, current_section
from coach.tui.drawing.board_frame import ColumnGrid, Patch, StepRoom
from coach.tui.drawing.canvas import Stack
from coach.tui.drawing.cells import UNICODE, Cell, Glyphs, Line
from coach.tui.drawing.kept_lines import KeptLines
from coach.tui.drawing.labels import label_lines
from coach.tui.drawing.picture_window import MARGIN, Picture, window
from coach.tui.drawing.plain_step_patches import TURNED_OVER, gap_above, plain_patches
from coach.tui.drawing.recent_steps import recent_steps
from coach.tui.drawing.shown_lines import ShownLines
from coach.tui.drawing.step_patches import knotted

_PITCHES: Final = (5, 4, 3)
_SLANT_PITCHES: Final = (4, 3)  # closer together, a line down for each tie looks as steep as it is
_WINDOW_PITCH: Final = 3
_TIGHT: Final = 2
_SOLID_PITCHES: Final = (9, 8, 7, 6, 5, 4, 3)
_WHOLE: Final = 600  # lines that a whole piece has at most
_WHOLE_PITCH: Final = 6  # so that it is not much wider for its length than it is
_ENDS: Final = 5  # lines of cords below a finished piece
_LOW: Final = 14  # lines below which cords hang no further apart than there is height for
_LOW_PITCH: Final = 7
_WIDE_PITCH: Final = 6  # from which on a cord is two columns wide
_ROOMY: Final = 9  # lines from which on there is room for words below and ties of two lines


class BoardDrawing:
    """Draws the board of one plan, count by count.

    The steps above the current one look the same for all its counts, and stacking some dozens of
    them takes ten times as long as the rest: they are cached until the step changes.
    """

    def __init__(self, plan: Plan, glyphs: Glyphs = UNICODE) -> None:
        self._plan = plan
        self._glyphs = glyphs
        self._slanting = slants(plan.steps, closed=plan.project.start.closed)
        self._kept = KeptLines()
        self._above: tuple[_Stacked, Stack] | None = None
        self._board: tuple[Plan, BoardDrawing] | None = None
        self._recent: (
            tuple[tuple[int, ColumnGrid, int], list[tuple[PlannedStep, int]], list[Line]] | None
        ) = None

    def picture(self, done: int, width: int, height: int) -> Picture:
        """Draw the board after `done` counts on `height` rows of `width` cells.

        From the top: the steps just made, the current step so far, the cords as they hang, their
        position numbers and their cords' initials. A slanting row is drawn a line lower with each
        tie if there is room. Work that is wider shows the part being worked on.
        """
        plan, made = current_section(self._plan, done)
        if plan is not self._plan:  # work on more than one board: the one at hand
            return self._of(plan).picture(made, width, height)
        frame = self._frame_of(order_at(plan, done), width, height)
        return self._framed(done, frame, (width, height))

    def _framed(self, done: int, frame: ColumnGrid, room: tuple[int, int]) -> Picture:
        """Draw the board in a frame, in so many columns and lines."""
        plan, (width, height) = self._plan, room
        order, roomy = order_at(plan, done), height >= _ROOMY
        labels = label_lines(plan, done, frame, order, words=roomy)[: max(0, height - 1)]
        rows = [*self._made(done, frame, max(0, height - len(labels)), roomy=roomy), *labels]
        count = plan.counts[done] if done < plan.total else None
        shown = window(rows, frame, order, count, width, kept=self._kept)
        self._kept.turn()
        return replace(shown, labels=len(labels), wide=frame.glyphs.wide)

    def _of(self, plan: Plan) -> "BoardDrawing":
        """Return the drawing of one of the plan's boards, cached until the board changes."""
        if self._board is None or self._board[0] is not plan:
            self._board = plan, BoardDrawing(plan, self._glyphs)
        return self._board[1]

    def whole(self, width: int) -> tuple[tuple[Cell, ...], ...]:
        """Draw the finished piece from top to bottom in `width` columns, its ends cut short.

        One that is too long says how much more is above. Work on several boards is drawn board by
        board.
        """
        plan = self._plan
        if plan.sections:
            whole = (BoardDrawing(board, self._glyphs).whole(width) for board in boards(plan))
            return tuple(row for rows in whole for row in rows)
        frame = self._frame_of(plan.finish, width, _WHOLE, _WHOLE_PITCH)
        steps, top = self._recently(plan.total, frame, _WHOLE)
        lines = ShownLines(plan, plan.total, plan.finish, frame, _WHOLE)
        high = self._stack(steps, lines, roomy=True).height if steps else 0
        labels = len(label_lines(plan, plan.total, frame, plan.finish, words=True))
        height = min(_WHOLE, len(top) + high + _ENDS + labels)
        return self._framed(plan.total, frame, (width, height)).rows

    def _frame_of(
        self, order: Sequence[int], width: int, height: int, most: int = _SOLID_PITCHES[0]
    ) -> ColumnGrid:
        """Return a frame for so many columns and lines, strands at most `most` apart."""
        slanting = height >= _ROOMY and any(self._slanting)
        pitches = [p for p in _pitches(self._glyphs, height, slanting) if p <= most]
        return _frame(len(order), width, self._glyphs, pitches)

    def _made(self, done: int, frame: ColumnGrid, room: int, *, roomy: bool) -> list[Line]:
        """Return what is above the labels: finished work as far as it fits, and its cords.

        The current tie is always included, with cords below it.
        """
        if not room:
            return []
        hanging, order = min(room, 2 if roomy else 1), order_at(self._plan, done)
        steps, top = self._recently(done, frame, room)
        lines = ShownLines(self._plan, done, order, frame, room, self._kept)
        if steps:
            stack, newest = self._stack(steps, lines, roomy=roomy), steps[0][0].index
        else:
            stack, newest = Stack(frame, order), 0
        return lines.joined(top, stack, newest, hanging)

    def _recently(
        self, done: int, frame: ColumnGrid, room: int
    ) -> tuple[list[tuple[PlannedStep, int]], list[Line]]:
        """Return the recent steps, cached for all counts of the newest but for its progress."""
        step = self._plan.step_at(done)
        wanted = (step.index if step else -1, frame, room)
        if self._recent is None or self._recent[0] != wanted:
            self._recent = wanted, *recent_steps(self._plan, done, frame, room)
        _, steps, top = self._recent
        return ([(step, done - step.first), *steps[1:]] if step else steps), top

    def _stack(
        self, steps: Sequence[tuple[PlannedStep, int]], lines: ShownLines, *, roomy: bool
    ) -> Stack:
        """Stack steps, the newest first, each with the number of its counts made."""
        (newest, made), oldest = steps[0], steps[-1][0].index
        wanted = _Stacked(oldest, newest.index, lines.frame, lines.room, roomy)
        if self._above is None or self._above[0] != wanted:
            self._above = wanted, self._earlier(wanted)
        above = self._above[1]
        stack = above.copy(above.below(lines.hands()) - lines.room)
        for patch in self._patches(newest, made, wanted):
            stack.put(patch, newest.index)
        return stack

    def _earlier(self, wanted: "_Stacked") -> Stack:
        """Return the whole steps before the newest, stacked.

        If one more step is made than the last time, only that one is added.
        """
        if self._above is not None and self._above[0].goes_on(wanted, self._plan.steps):
            first, stack = self._above[0].newest, self._above[1].copy()
        else:
            first = wanted.oldest
            stack = Stack(wanted.frame, self._plan.steps[first].before)
        for step in self._plan.steps[first : wanted.newest]:
            for patch in self._patches(step, step.counts, wanted):
                stack.put(patch, step.index)
        return stack

    def _patches(self, step: PlannedStep, made: int, wanted: "_Stacked") -> Iterable[Patch]:
        """Return the patches of a step with so many counts made."""
        slanting = wanted.roomy and self._slanting[step.index]
        room = StepRoom(wanted.most, wanted.roomy, slanting=slanting)
        patches = knotted(self._plan, step, made, wanted.frame, room)
        if patches is not None:
            gap = gap_above(step, wanted.frame, low=wanted.most < _LOW)
            return chain(gap, patches)
        return plain_patches(step, wanted.frame, roomy=wanted.roomy) if made else ()


@dataclass(frozen=True, slots=True)
class _Stacked:
    """The indices of the steps that are stacked, and the room: a cache key."""

    oldest: int
    newest: int
    frame: ColumnGrid
    most: int
    roomy: bool

    def goes_on(self, later: "_Stacked", steps: Sequence[PlannedStep]) -> bool:
        """Return whether `later` has these steps and some more below them."""
        fits = self.oldest <= later.oldest <= self.newest <= later.newest
        same = replace(self, oldest=later.oldest, newest=later.newest) == later
        if not (fits and same):
            return False
        between = steps[self.oldest : later.oldest + 1]
        turned = any(isinstance(step.source, TURNED_OVER) for step in between)
        return not turned and between[0].unfolded == between[-1].unfolded


def _pitches(glyphs: Glyphs, height: int, slanting: bool) -> Sequence[int]:
    """Return the possible distances between cords, the widest first."""
    if not glyphs.wide:
        return _SLANT_PITCHES if slanting else _PITCHES
    low = slanting or height < _LOW
    return tuple([pitch for pitch in _SOLID_PITCHES if not low or pitch <= _LOW_PITCH])


def _frame(strands: int, width: int, glyphs: Glyphs, pitches: Sequence[int]) -> ColumnGrid:
    """Return a frame: the distance of the cords, and the column of the first."""
    gaps = max(1, strands - 1)
    for pitch in (*pitches, _TIGHT):
        margin = MARGIN if pitch > _TIGHT else 1
        if gaps * pitch + 2 * margin < width - glyphs.wide:
            thick = replace(glyphs, wide=2) if glyphs.wide and pitch >= _WIDE_PITCH else glyphs
            return ColumnGrid((width - gaps * pitch - max(0, thick.wide - 1)) // 2, pitch, thick)
    return ColumnGrid(MARGIN, _WINDOW_PITCH, glyphs)
