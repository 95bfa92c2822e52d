"""One step of the work as lines of a picture: what is made of it, and the tie at hand."""

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise
from math import ceil
from typing import Final

from coach.bench.cells import Cell, Glyphs, Line
from coach.bench.standing import exchanged, passed, standing
from coach.bench.tied import draw_across, draw_on_row, draw_pending, draw_tie
from coach.plan.model import Count, Plan, PlannedStep
from coach.project import model

_GROUPED: Final = ("knot", "around", "gathering", "net", "braid")
_REORDERED: Final = (model.Cross, model.Add, model.LayAside, model.TakeUp)
_WAY_LINES: Final = 4
TURNED_OVER: Final = (model.Flip, model.Seam)


@dataclass(frozen=True, slots=True)
class Frame:
    """Where columns stand, and the characters to draw with."""

    left: int
    pitch: int
    glyphs: Glyphs

    def columns(self, order: Iterable[int]) -> dict[int, int]:
        """Give the column of each strand."""
        return {strand: self.left + i * self.pitch for i, strand in enumerate(order)}

    def cords(self, order: Iterable[int]) -> Line:
        """Give a line on which these strands hang."""
        return {
            x: Cell(self.glyphs.cord, "cord", strand) for strand, x in self.columns(order).items()
        }


def block(plan: Plan, step: PlannedStep, made: int, frame: Frame, most: int) -> list[Line]:
    """Give the lines of a step of which `made` counts are made, at most `most` lines.

    With counts left to make, the room of the tie at hand is shaded.
    """
    if step.role in ("row", "weave"):
        return [_row(plan, step, made, frame)]
    if step.role in _GROUPED:
        return _grouped(plan, step, made, frame, most)
    return _plain(step, made, frame)


def _row(plan: Plan, step: PlannedStep, made: int, frame: Frame) -> Line:
    """Draw the mover as far as it has got, a tie at each strand that it has passed."""
    group, gone = step.groups[0], passed(step, made)
    mover = group[0]
    line = frame.cords(standing(plan, step, made))
    at = frame.columns(step.before)
    xs = [at[strand] for strand in group]
    each = step.counts // (len(group) - 1)
    for start, end in _unbroken(xs[: gone + 1], frame.pitch):
        draw_across(line, frame.glyphs, mover, [start, end])
    for i in range(gone):
        if abs(xs[i + 1] - xs[i]) == frame.pitch:
            knotter = plan.counts[step.first + i * each].knotters[0]
            draw_on_row(line, frame.glyphs, knotter, (xs[i], xs[i + 1]), mover)
    if made < step.counts and abs(xs[gone + 1] - xs[gone]) == frame.pitch:
        knotter = plan.counts[step.first + made].knotters[0]
        draw_pending(line, frame.glyphs, (xs[gone], xs[gone + 1]), knotter)
    return line


def _unbroken(xs: list[int], pitch: int) -> list[tuple[int, int]]:
    """Split a way across the board where work in the round goes over the seam."""
    runs = [(xs[0], xs[0])]
    for before, after in pairwise(xs):
        if abs(after - before) == pitch:
            runs[-1] = (runs[-1][0], after)
        else:
            runs.append((after, after))
    return runs


def _grouped(plan: Plan, step: PlannedStep, made: int, frame: Frame, most: int) -> list[Line]:
    """Draw each group's ties one under the other; of a long run only the last ones."""
    counts = plan.counts[step.first : step.first + min(made + 1, step.counts)]
    columns, order = [frame.columns(step.before)], step.before
    for count in counts[:made]:
        after = exchanged(order, count, step.role)
        columns.append(columns[-1] if after == order else frame.columns(after))
        order = after
    groups = _groups(step)
    shown = [
        [n for n, count in enumerate(counts) if _works_on(count, group)][-most:] for group in groups
    ]
    return [
        _group_line(
            _Run(step, counts, made, frame, columns), groups, [s[row : row + 1] for s in shown]
        )
        for row in range(max(map(len, shown), default=0))
    ]


@dataclass(frozen=True, slots=True)
class _Run:
    """What the lines of one grouped step share; `columns[n]` is where all hang before count n."""

    step: PlannedStep
    counts: tuple[Count, ...]
    made: int
    frame: Frame
    columns: list[dict[int, int]]


def _groups(step: PlannedStep) -> list[frozenset[int]]:
    """Give the groups whose ties are drawn apart; the bundles of a plait are one."""
    if step.role == "braid":
        return [frozenset(strand for bundle in step.groups for strand in bundle)]
    return [frozenset(group) for group in step.groups]


def _works_on(count: Count, group: frozenset[int]) -> bool:
    return not group.isdisjoint((*count.knotters, *count.fillers))


def _group_line(run: _Run, groups: list[frozenset[int]], ties: list[list[int]]) -> Line:
    """Draw one line: in each group the tie that stands on it, if any."""
    line = run.frame.cords(run.step.before)
    for group, numbers in zip(groups, ties, strict=True):
        at = run.columns[numbers[0] if numbers and numbers[0] < run.made else -1]
        here = {strand: at[strand] for strand in group}
        line |= {x: Cell(run.frame.glyphs.cord, "cord", strand) for strand, x in here.items()}
        for number in numbers:
            _group_tie(line, run, number, here)
    return line


def _group_tie(line: Line, run: _Run, number: int, at: dict[int, int]) -> None:
    count, glyphs = run.counts[number], run.frame.glyphs
    if number < run.made:
        draw_tie(line, glyphs, count, at, run.step.role)
        return
    xs = sorted(at[s] for s in (*count.knotters, *count.fillers) if s in at)
    shade = count.knotters[0] if count.knotters else None
    for start, end in pairwise(xs):
        draw_pending(line, glyphs, (start, end), shade)
    if len(xs) == 1:
        draw_pending(line, glyphs, (xs[0] - 2, xs[0]), shade)


def _plain(step: PlannedStep, made: int, frame: Frame) -> list[Line]:
    """Draw what a step without a knot does to the cords: they change places or hang on."""
    if not made:
        return []
    if isinstance(step.source, _REORDERED):
        return _ways(step, frame)
    if isinstance(step.source, model.Space):
        return [frame.cords(step.after)]
    if isinstance(step.source, model.Bead):
        return [_bead(step, frame)]
    return []


def _bead(step: PlannedStep, frame: Frame) -> Line:
    line = frame.cords(step.after)
    at = frame.columns(step.after)
    xs = [at[strand] for strand in step.groups[0]]
    for x in range(min(xs), max(xs) + 1):
        line[x] = Cell(frame.glyphs.roll, "bar")
    line[min(xs) - 1] = Cell(frame.glyphs.body[0], "bar")
    line[max(xs) + 1] = Cell(frame.glyphs.body[2], "bar")
    return line


def _ways(step: PlannedStep, frame: Frame) -> list[Line]:
    """Draw the cords going to their new places, in lines so many that neighbours stay apart."""
    before, after = frame.columns(step.before), frame.columns(step.after)
    ways = {s: after[s] - before[s] for s in step.after if s in before}
    far = max(map(abs, ways.values()), default=0)
    parts = min(_WAY_LINES, max(1, ceil(far / (frame.pitch - 1))))
    lines: list[Line] = [{} for _ in range(parts)]
    for part, line in enumerate(lines):
        for strand, way in ways.items():
            start, end = (before[strand] + way * p // parts for p in (part, part + 1))
            draw_across(line, frame.glyphs, strand, [start, end])
    for strand in set(after) - set(before):
        lines[-1].setdefault(after[strand], Cell(frame.glyphs.cord, "cord", strand))
    for strand in set(before) - set(after):
        lines[0].setdefault(before[strand], Cell(frame.glyphs.end, "cord", strand))
    return lines
