"""One step of the work as patches of a picture: what is made of it, and the tie at hand."""

from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from itertools import pairwise
from typing import Final, TypeAlias

from coach.knots import names
from coach.plan.plan_model import Count, Plan, PlannedStep
from coach.plan.standing import exchanged, passed, standing
from coach.tui.drawing import solid_cords, solid_ties
from coach.tui.drawing.cells import Cell, Glyphs, Line
from coach.tui.drawing.solid_cords import BODY, raised
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

    def column(self, place: int) -> int:
        """Return the column of a place, counted from 0."""
        return self.left + place * self.pitch

    def cords(self, order: Iterable[int]) -> Line:
        """Return a line on which these strands hang."""
        line: Line = {}
        for strand, x in self.columns(order).items():
            line |= self.cord(x, strand)
        return line

    def cord(self, x: int, strand: int) -> Line:
        """Return the cells of a cord that hangs in a column."""
        if self.glyphs.wide:
            return solid_cords.cord(self.glyphs, x, strand)
        return {x: Cell(self.glyphs.cord, "cord", strand)}

    def over(self, xs: Collection[int]) -> range:
        """Return all columns from the first to the last of some cords, these and all of them."""
        return range(min(xs), max(xs) + max(1, self.glyphs.wide))


@dataclass(frozen=True, slots=True)
class Room:
    """How much of a step there is room for: ties of a run, ties of two lines, slanting rows."""

    most: int
    roomy: bool
    slanting: bool


@dataclass(frozen=True, slots=True)
class Patch:
    """Lines of a picture on some columns, and which strand hangs in each of these below them.

    Attributes:
        anew: The strands have become more or fewer, so no other column goes on.
        run: The first count of the run that it is a tie of, -1 for none.
        above: How many ties of that run are above it.
        rise: What reaches up into the line above, where that is free.
    """

    lines: tuple[Line, ...]
    hanging: Mapping[int, int]
    anew: bool = False
    run: int = -1
    above: int = 0
    rise: Line = field(default_factory=dict)


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
        inside = self.frame.over(xs)
        hanging = {x: s for s, x in self.frame.columns(order).items() if x in inside}
        if not all(self._adjacent(xs, place) for place in range(len(xs) - 1)):
            half = self.frame.pitch // 2  # of a tie over the seam, seen at either edge
            inside = range(inside.start - half, inside.stop + half)
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
        """Whether the way to the next strand does not go over the seam of round work."""
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
        """Return from where to where a tie goes, beyond the edge where it lies over the seam."""
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
            solid_ties.pending_row(room, glyphs, span, knotter, turns)
        else:
            draw_pending(room, glyphs, span, knotter)
        line.update(self._at_seam(room, xs, gone))


def _risen(line: Line) -> Line:
    """Return how turns of a slanting row reach up beyond their line; only solid ones do."""
    turns = {x: cell for x, cell in line.items() if cell.part == "knot" and cell.char in "█▌"}
    return {x: raised(cell) for x, cell in turns.items() if cell.tone != BODY}


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
    last_hidden = {run[-room.most - 1]: len(run) - room.most for run in runs if run[room.most :]}
    for number, count in enumerate(counts):
        after = exchanged(order, count, step.role) if number < made else order
        if number in last_hidden:
            high = len(_tie(count, _Place(step, at, above[number]), frame, room))
            seam = _Seam.of(step, count, frame)
            hanging = seam.hanging(after) if seam else _hanging(frame, at, after, count)
            yield Patch(({},) * (high * last_hidden[number]), hanging)
        if number in shown:
            seam = _Seam.of(step, count, frame)
            place = _Place(step, seam.opened(at) if seam else at, above[number])
            drawn = (
                _tie(count, place, frame, room)
                if number < made
                else [_at_hand(count, place.at, frame)]
            )
            if seam:
                drawn = [seam.halves(line) for line in drawn]
            hanging = seam.hanging(after) if seam else _hanging(frame, at, after, count)
            run = step.first + number - above[number] if number < made else -1
            yield Patch(tuple(drawn), hanging, run=run, above=above[number])
        if after != order:
            order, at = after, frame.columns(after)


@dataclass(frozen=True, slots=True)
class _Seam:
    """A group of round work that lies over the seam: it is seen as two halves at the edges.

    `places` are its places on the board, in its own order from the left, `strands` how many hang.
    """

    places: tuple[int, ...]
    strands: int
    frame: Frame

    @classmethod
    def of(cls, step: PlannedStep, count: Count, frame: Frame) -> "_Seam | None":
        """Return the seam that a tie lies over, or None."""
        own = {*count.knotters, *count.fillers}
        group = next((group for group in step.groups if own & set(group)), ())
        at = {strand: place for place, strand in enumerate(step.before)}
        places = tuple([at[strand] for strand in group if strand in at])
        falls = any(after < before for before, after in pairwise(places))
        whole = len(places) == len(step.before)
        return cls(places, len(at), frame) if falls and not whole else None

    def opened(self, at: Mapping[int, int]) -> dict[int, int]:
        """Return the columns with those beyond the seam counted on."""
        beyond = {self.frame.column(place) for place in self.places if place < self.places[0]}
        return {s: x + self._whole if x in beyond else x for s, x in at.items()}

    @property
    def _whole(self) -> int:
        return self.strands * self.frame.pitch

    def halves(self, line: Line) -> Line:
        """Return a line with what lies beyond the seam at the other edge."""
        return over_edge(line, self.frame, self.strands)

    def hanging(self, order: tuple[int, ...]) -> _Below:
        """Return what hangs below a tie."""
        return {self.frame.column(place): order[place] for place in self.places}


def over_edge(line: Line, frame: Frame, strands: int) -> Line:
    """Return a line of round work with what goes beyond an edge at the other one."""
    whole, half = strands * frame.pitch, (frame.pitch - max(1, frame.glyphs.wide)) // 2
    left, right = frame.left - half, frame.left + whole - half
    return {x - whole if x >= right else x + whole if x < left else x: c for x, c in line.items()}


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
        resting: Line = {}
        for s in bundles[aside]:
            resting |= frame.cord(now[s], s)
        crossed = crossing_lines(frame.glyphs, bundles[over], bundles[1], now)
        lines += [resting | line for line in crossed]
        bundles[over], bundles[1] = bundles[1], bundles[over]
    return lines[-2 * room.most if room.roomy else -2 :]


def _at_hand(count: Count, at: Mapping[int, int], frame: Frame) -> Line:
    """Shade the room that a tie will take."""
    strands = [s for s in (*count.knotters, *count.fillers) if s in at]
    xs = sorted(at[s] for s in strands)
    shade = count.knotters[0] if count.knotters else None
    if frame.glyphs.wide:
        return solid_cords.hands(frame.over(xs), shade)
    line: Line = {at[s]: Cell(frame.glyphs.cord, "cord", s) for s in strands}
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
