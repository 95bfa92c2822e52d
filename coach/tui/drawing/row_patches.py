"""Patches of rows: level on one line, or slanting, a line lower with each tie."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from coach.knots import names
from coach.plan.board_at_count import standing, strands_passed
from coach.plan.plan_model import Count, Plan, PlannedStep
from coach.tui.drawing.board_frame import ColumnGrid, Patch, over_edge
from coach.tui.drawing.cells import Line
from coach.tui.drawing.solid import solid_ties
from coach.tui.drawing.solid.solid_cords import BODY, turn_top
from coach.tui.drawing.tie_glyphs import draw_across, draw_on_row, draw_pending


@dataclass(frozen=True, slots=True)
class RowPatches:
    """A row of which `made` ties are made."""

    plan: Plan
    step: PlannedStep
    made: int
    frame: ColumnGrid

    def level(self) -> Patch:
        """Return one line: the mover so far, with a tie at each strand that it passed."""
        order = standing(self.plan, self.step, self.made)
        xs, gone = self._columns(), strands_passed(self.step, self.made)
        line = self.frame.cords(order)
        for start, end in _unbroken(xs[: gone + 1], self.frame.pitch):
            draw_across(line, self.frame.glyphs, self.step.groups[0][0], [start, end])
        for place in range(gone):
            self._tie(line, xs, place)
        self._pending(line, xs, gone)
        inside = self.frame.over(xs)
        hanging = {x: s for s, x in self.frame.columns(order).items() if x in inside}
        if not all(self._adjacent(xs, place) for place in range(len(xs) - 1)):
            half = self.frame.pitch // 2  # of a tie over the seam, seen at either edge
            inside = range(inside.start - half, inside.stop + half)
        return Patch(({x: cell for x, cell in line.items() if x in inside},), hanging)

    def slanting(self) -> Iterator[Patch]:
        """Yield a line for each tie, so that each one lies below the one before it."""
        mover, *crossed = self.step.groups[0]
        xs, gone = self._columns(), strands_passed(self.step, self.made)
        for place in range(gone):
            line: Line = {}
            here, there = xs[place], xs[place + 1]
            if self._adjacent(xs, place):
                draw_across(line, self.frame.glyphs, mover, [here, there])
            self._tie(line, xs, place)
            yield Patch((line,), {here: crossed[place], there: mover}, rise=_risen(line))
        if self.made < self.step.counts:
            line = {}
            self._pending(line, xs, gone)
            for x, strand in ((xs[gone], mover), (xs[gone + 1], crossed[gone])):
                line |= self.frame.cord(x, strand)
            yield Patch((line,), {xs[gone]: mover, xs[gone + 1]: crossed[gone]})

    def _columns(self) -> list[int]:
        at = self.frame.columns(self.step.before)
        return [at[strand] for strand in self.step.groups[0]]

    def _adjacent(self, xs: list[int], place: int) -> bool:
        """Return whether the way to the next strand stays off the seam of round work."""
        return abs(xs[place + 1] - xs[place]) == self.frame.pitch

    def _count(self, made: int) -> Count:
        return self.plan.counts[self.step.first + made]

    def _tie(self, line: Line, xs: list[int], place: int) -> None:
        count = self._count(place * self.step.counts // (len(xs) - 1))
        tie: Line = {}
        span = self._span(xs, place)
        if not self._adjacent(xs, place):
            draw_across(tie, self.frame.glyphs, self.step.groups[0][0], span)
            tie = {x: cell for x, cell in tie.items() if x not in span}
        draw_on_row(tie, self.frame.glyphs, count, span, self.step.groups[0][0])
        line.update(self._at_seam(tie, xs, place))

    def _span(self, xs: list[int], place: int) -> tuple[int, int]:
        """Return the columns of a tie, beyond the edge if it lies over the seam."""
        if self._adjacent(xs, place):
            return xs[place], xs[place + 1]
        way = -1 if self.step.direction == "left" else 1
        return xs[place], xs[place] + way * self.frame.pitch

    def _at_seam(self, line: Line, xs: list[int], place: int) -> Line:
        if self._adjacent(xs, place):
            return line
        return over_edge(line, self.frame, len(self.step.before))

    def _pending(self, line: Line, xs: list[int], gone: int) -> None:
        if self.made >= self.step.counts:
            return
        count, span = self._count(self.made), self._span(xs, gone)
        room: Line = {}
        knotter, glyphs = count.knotters[0], self.frame.glyphs
        if glyphs.wide:
            turns = 1 if count.knot == names.HALF_HITCH else 2
            solid_ties.draw_solid_pending(room, glyphs, span, knotter, turns)
        else:
            draw_pending(room, glyphs, span, knotter)
        line.update(self._at_seam(room, xs, gone))


def _risen(line: Line) -> Line:
    """Return the parts of a slanting row's turns above its line; only solid ones have any."""
    turns = {x: cell for x, cell in line.items() if cell.part == "knot" and cell.char in "█▌"}
    return {x: turn_top(cell) for x, cell in turns.items() if cell.tone != BODY}


def _unbroken(xs: list[int], pitch: int) -> list[tuple[int, int]]:
    """Split a way across the board where round work goes over the seam."""
    runs = [(xs[0], xs[0])]
    for before, after in pairwise(xs):
        if abs(after - before) == pitch:
            runs[-1] = (runs[-1][0], after)
        else:
            runs.append((after, after))
    return runs
