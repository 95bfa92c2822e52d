"""One step of the work as patches of a picture: what is made of it, and the tie at hand."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from itertools import pairwise
from typing import Final, TypeAlias

from coach.plan.plan_model import Count, Plan, PlannedStep
from coach.plan.standing import exchanged, passed, standing
from coach.tui.drawing.cells import Cell, Glyphs, Line
from coach.tui.drawing.tie_glyphs import (
    crossing_lines,
    draw_across,
    draw_on_row,
    draw_pending,
    tie_lines,
)

_GROUPED: Final = ("knot", "around", "gathering", "net", "braid")
_Below: TypeAlias = dict[int, int]  # the strand that hangs in each column
_PERIOD: Final = 6  # crossings after which a plait's bundles are back in place


@dataclass(frozen=True, slots=True)
class Frame:
    """Where columns stand, and the characters to draw with."""

    left: int
    pitch: int
    glyphs: Glyphs

    def columns(self, order: Iterable[int]) -> dict[int, int]:
        """Return the column of each strand."""
        return {strand: self.left + i * self.pitch for i, strand in enumerate(order)}

    def cords(self, order: Iterable[int]) -> Line:
        """Return a line on which these strands hang."""
        return {
            x: Cell(self.glyphs.cord, "cord", strand) for strand, x in self.columns(order).items()
        }


@dataclass(frozen=True, slots=True)
class Room:
    """How much of a step there is room for: ties of a run, ties of two lines, slanting rows."""

    most: int
    roomy: bool
    slanting: bool


@dataclass(frozen=True, slots=True)
class Patch:
    """Lines of a picture on some columns, and which strand hangs in each of these below them.

    `anew`: the strands have become more or fewer, so no other column goes on.
    """

    lines: tuple[Line, ...]
    hanging: Mapping[int, int]
    anew: bool = False


def knotted(
    plan: Plan, step: PlannedStep, made: int, frame: Frame, room: Room
) -> Iterator[Patch] | None:
    """Return the patches of a step with knots of which `made` counts are made; None for another.

    With counts left to make, the room of the tie at hand is shaded.
    """
    if step.role in ("row", "weave"):
        row = _Row(plan, step, made, frame)
        return row.slanting() if room.slanting else iter([row.level()])
    return _grouped(plan, step, made, frame, room) if step.role in _GROUPED else None


@dataclass(frozen=True, slots=True)
class _Row:
    """A row of which `made` ties are made."""

    plan: Plan
    step: PlannedStep
    made: int
    frame: Frame

    def level(self) -> Patch:
        """Return one line: the mover as far as it has got, a tie at each strand that it passed."""
        order = standing(self.plan, self.step, self.made)
        xs, gone = self._columns(), passed(self.step, self.made)
        line = self.frame.cords(order)
        for start, end in _unbroken(xs[: gone + 1], self.frame.pitch):
            draw_across(line, self.frame.glyphs, self.step.groups[0][0], [start, end])
        for place in range(gone):
            self._tie(line, xs, place)
        self._pending(line, xs, gone)
        inside = range(min(xs), max(xs) + 1)
        hanging = {x: s for s, x in self.frame.columns(order).items() if x in inside}
        return Patch(({x: cell for x, cell in line.items() if x in inside},), hanging)

    def slanting(self) -> Iterator[Patch]:
        """Yield a line for each tie, so that each one lies below the one before it."""
        mover, *crossed = self.step.groups[0]
        xs, gone = self._columns(), passed(self.step, self.made)
        for place in range(gone):
            line: Line = {}
            here, there = xs[place], xs[place + 1]
            if self._adjacent(xs, place):
                draw_across(line, self.frame.glyphs, mover, [here, there])
            self._tie(line, xs, place)
            yield Patch((line,), {here: crossed[place], there: mover})
        if self.made < self.step.counts:
            line = {}
            self._pending(line, xs, gone)
            for x, strand in ((xs[gone], mover), (xs[gone + 1], crossed[gone])):
                line[x] = Cell(self.frame.glyphs.cord, "cord", strand)
            yield Patch((line,), {xs[gone]: mover, xs[gone + 1]: crossed[gone]})

    def _columns(self) -> list[int]:
        at = self.frame.columns(self.step.before)
        return [at[strand] for strand in self.step.groups[0]]

    def _adjacent(self, xs: list[int], place: int) -> bool:
        """Whether the way to the next strand does not go over the seam of round work."""
        return abs(xs[place + 1] - xs[place]) == self.frame.pitch

    def _count(self, made: int) -> Count:
        return self.plan.counts[self.step.first + made]

    def _tie(self, line: Line, xs: list[int], place: int) -> None:
        if self._adjacent(xs, place):
            count = self._count(place * self.step.counts // (len(xs) - 1))
            span = (xs[place], xs[place + 1])
            draw_on_row(line, self.frame.glyphs, count, span, self.step.groups[0][0])

    def _pending(self, line: Line, xs: list[int], gone: int) -> None:
        if self.made < self.step.counts and self._adjacent(xs, gone):
            knotter = self._count(self.made).knotters[0]
            draw_pending(line, self.frame.glyphs, (xs[gone], xs[gone + 1]), knotter)


def _unbroken(xs: list[int], pitch: int) -> list[tuple[int, int]]:
    """Split a way across the board where work in the round goes over the seam."""
    runs = [(xs[0], xs[0])]
    for before, after in pairwise(xs):
        if abs(after - before) == pitch:
            runs[-1] = (runs[-1][0], after)
        else:
            runs.append((after, after))
    return runs


def _grouped(plan: Plan, step: PlannedStep, made: int, frame: Frame, room: Room) -> Iterator[Patch]:
    """Yield each tie, the one at hand shaded; of a long run in one group only the last ones."""
    counts = plan.counts[step.first : step.first + min(made + 1, step.counts)]
    runs = [list(range(len(counts)))] if step.role == "braid" else _runs(counts)
    above = {number: place for run in runs for place, number in enumerate(run)}
    shown = {number for run in runs for number in run[-room.most :]}
    order, at = step.before, frame.columns(step.before)
    for number, count in enumerate(counts):
        after = exchanged(order, count, step.role) if number < made else order
        if number in shown:
            place = _Place(step, at, above[number])
            drawn = (
                _tie(count, place, frame, room) if number < made else [_at_hand(count, at, frame)]
            )
            yield Patch(tuple(drawn), _hanging(frame, at, after, count))
        if after != order:
            order, at = after, frame.columns(after)


def _runs(counts: tuple[Count, ...]) -> list[list[int]]:
    """Return the numbers of the ties of each group."""
    groups: dict[frozenset[int], list[int]] = {}
    for number, count in enumerate(counts):
        strands = frozenset((*count.knotters, *count.fillers))
        groups.setdefault(strands, []).append(number)
    return list(groups.values())


@dataclass(frozen=True, slots=True)
class _Place:
    """Where a tie of a step stands: who hangs where before it, how many of its run are above."""

    step: PlannedStep
    at: Mapping[int, int]
    above: int


def _tie(count: Count, place: _Place, frame: Frame, room: Room) -> list[Line]:
    if place.step.role != "braid":
        return tie_lines(frame.glyphs, count, place.at, roomy=room.roomy, place=place.above)
    if count.fillers:
        return crossing_lines(frame.glyphs, count.knotters, count.fillers, place.at)
    return _plaited(place, frame, room)


def _plaited(place: _Place, frame: Frame, room: Room) -> list[Line]:
    """Draw a plait given by its length as one period, at whose end all are back in place.

    With little room it is the last lines of it, so that what hangs below is right.
    """
    at = place.at
    bundles = sorted(place.step.groups, key=lambda bundle: at[bundle[0]])
    xs = sorted(at[strand] for bundle in bundles for strand in bundle)
    lines = []
    for crossing in range(_PERIOD):
        order = [strand for bundle in bundles for strand in bundle]
        now = dict(zip(order, xs, strict=True))
        aside, over = (2, 0) if crossing % 2 else (0, 2)
        resting = {now[s]: Cell(frame.glyphs.cord, "cord", s) for s in bundles[aside]}
        crossed = crossing_lines(frame.glyphs, bundles[over], bundles[1], now)
        lines += [resting | line for line in crossed]
        bundles[over], bundles[1] = bundles[1], bundles[over]
    return lines[-2 * room.most if room.roomy else -2 :]


def _at_hand(count: Count, at: Mapping[int, int], frame: Frame) -> Line:
    """Shade the room that a tie will take."""
    strands = [s for s in (*count.knotters, *count.fillers) if s in at]
    line: Line = {at[s]: Cell(frame.glyphs.cord, "cord", s) for s in strands}
    xs = sorted(line)
    shade = count.knotters[0] if count.knotters else None
    for span in pairwise(xs):
        draw_pending(line, frame.glyphs, span, shade)
    if len(xs) == 1:
        draw_pending(line, frame.glyphs, (xs[0] - 2, xs[0]), shade)
    return line


def _hanging(frame: Frame, at: Mapping[int, int], after: tuple[int, ...], count: Count) -> _Below:
    """Return what hangs below a tie, from the first to the last column that it works on."""
    own = [at[s] for s in (*count.knotters, *count.fillers) if s in at]
    if not own:
        return {}
    first, last = ((x - frame.left) // frame.pitch for x in (min(own), max(own)))
    xs = range(min(own), max(own) + 1, frame.pitch)
    return dict(zip(xs, after[first : last + 1], strict=True))
