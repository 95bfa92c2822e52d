"""One step as patches of a picture: what is made of it, and the place of the next tie."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from coach.plan.board_at_count import order_after_exchange
from coach.plan.plan_model import Count, Plan, PlannedStep
from coach.tui.drawing.board_frame import Below, ColumnGrid, Patch, SeamGroup, StepRoom
from coach.tui.drawing.cells import Cell, Columns, Glyphs, Line
from coach.tui.drawing.row_patches import RowPatches
from coach.tui.drawing.solid import solid_cords
from coach.tui.drawing.tie_glyphs import (
    draw_across,
    draw_pending,
    draw_tie,
)


def draw_crossing(
    glyphs: Glyphs, over: tuple[int, ...], under: tuple[int, ...], at: Columns
) -> list[Line]:
    """Draw one crossing of a plait, the bundle that goes over strand by strand.

    The strand nearest to the other side goes first, a line each, so that a bundle lies
    across as a slanting band. What goes under comes out below.

    Args:
        glyphs: The characters.
        over: The strands that go over, from the left.
        under: The strands that go under, from the left.
        at: The column of each strand.
    """
    xs = sorted(at[strand] for strand in (*over, *under))
    rightward = min(at[s] for s in over) == xs[0]
    going = sorted(over, key=lambda s: at[s], reverse=rightward)
    ends = sorted(xs[-len(over) :] if rightward else xs[: len(over)], reverse=rightward)
    now = {at[strand]: strand for strand in (*over, *under)}
    lines = []
    for strand, end in zip(going, ends, strict=True):
        line = {x: Cell(glyphs.cord, "cord", s) for x, s in now.items() if s != strand}
        if glyphs.wide:
            line = {c: cell for x, s in now.items() if s != strand
                    for c, cell in solid_cords.cord(glyphs, x, s).items()}  # fmt: skip
            solid_cords.draw_lobe(line, glyphs, strand, [at[strand], end])
        else:
            draw_across(line, glyphs, strand, [at[strand], end])
        swept = range(min(at[strand], end), max(at[strand], end) + 1)
        now = {x: s for x, s in now.items() if x not in swept} | {end: strand}
        lines.append(line)
    return lines


_GROUPED: Final = ("knot", "around", "gathering", "net", "braid")
_PERIOD: Final = 6  # crossings after which a plait's bundles are back in place


def knotted(
    plan: Plan, step: PlannedStep, made: int, frame: ColumnGrid, room: StepRoom
) -> Iterator[Patch] | None:
    """Return the patches of a step with knots, None for a step without.

    Args:
        plan: The plan.
        step: The step.
        made: How many of its counts are made; if more are to come, the next tie's place is shaded.
        frame: The columns of the strands.
        room: The space for it.
    """
    if step.role in ("row", "weave"):
        row = RowPatches(plan, step, made, frame)
        return row.slanting() if room.slanting else iter([row.level()])
    return _grouped(plan, step, made, frame, room) if step.role in _GROUPED else None


def _grouped(
    plan: Plan, step: PlannedStep, made: int, frame: ColumnGrid, room: StepRoom
) -> Iterator[Patch]:
    """Yield each tie, the next one shaded; of a long run in one group only the last ones."""
    counts = plan.counts[step.first : step.first + min(made + 1, step.counts)]
    runs = [list(range(len(counts)))] if step.role == "braid" else _runs(counts)
    above = {number: place for run in runs for place, number in enumerate(run)}
    shown = {number for run in runs for number in run[-room.most :]}
    order, at = step.before, frame.columns(step.before)
    last_hidden = {run[-room.most - 1]: len(run) - room.most for run in runs if run[room.most :]}
    for number, count in enumerate(counts):
        after = order_after_exchange(order, count, step.role) if number < made else order
        if number in last_hidden:
            high = len(_tie(count, _Place(step, at, above[number]), frame, room))
            seam = SeamGroup.of(step, count, frame)
            hanging = seam.hanging(after) if seam else _hanging(frame, at, after, count)
            yield Patch(({},) * (high * last_hidden[number]), hanging)
        if number in shown:
            seam = SeamGroup.of(step, count, frame)
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


def _runs(counts: tuple[Count, ...]) -> list[list[int]]:
    """Return the numbers of the ties of each group."""
    groups: dict[frozenset[int], list[int]] = {}
    for number, count in enumerate(counts):
        strands = frozenset((*count.knotters, *count.fillers))
        groups.setdefault(strands, []).append(number)
    return list(groups.values())


@dataclass(frozen=True, slots=True)
class _Place:
    """Where a tie of a step is: the order before it, and how many of its run are above."""

    step: PlannedStep
    at: Mapping[int, int]
    above: int


def _tie(count: Count, place: _Place, frame: ColumnGrid, room: StepRoom) -> list[Line]:
    if place.step.role != "braid":
        return draw_tie(frame.glyphs, count, place.at, roomy=room.roomy, place=place.above)
    if count.fillers:
        return draw_crossing(frame.glyphs, count.knotters, count.fillers, place.at)
    return _plaited(place, frame, room)


def _plaited(place: _Place, frame: ColumnGrid, room: StepRoom) -> list[Line]:
    """Draw a plait given by length as one period, at whose end all are back in place.

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
        crossed = draw_crossing(frame.glyphs, bundles[over], bundles[1], now)
        lines += [resting | line for line in crossed]
        bundles[over], bundles[1] = bundles[1], bundles[over]
    return lines[-2 * room.most if room.roomy else -2 :]


def _at_hand(count: Count, at: Mapping[int, int], frame: ColumnGrid) -> Line:
    """Shade the place of the next tie."""
    strands = [s for s in (*count.knotters, *count.fillers) if s in at]
    xs = sorted(at[s] for s in strands)
    shade = count.knotters[0] if count.knotters else None
    if frame.glyphs.wide:
        return solid_cords.next_tie_cells(frame.over(xs), shade)
    line: Line = {at[s]: Cell(frame.glyphs.cord, "cord", s) for s in strands}
    for span in pairwise(xs):
        draw_pending(line, frame.glyphs, span, shade)
    if len(xs) == 1:
        draw_pending(line, frame.glyphs, (xs[0] - 2, xs[0]), shade)
    return line


def _hanging(
    frame: ColumnGrid, at: Mapping[int, int], after: tuple[int, ...], count: Count
) -> Below:
    """Return what hangs below a tie, from the first to the last of its columns."""
    own = [at[s] for s in (*count.knotters, *count.fillers) if s in at]
    if not own:
        return {}
    first, last = ((x - frame.left) // frame.pitch for x in (min(own), max(own)))
    xs = range(min(own), max(own) + 1, frame.pitch)
    return dict(zip(xs, after[first : last + 1], strict=True))
