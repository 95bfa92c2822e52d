"""Patches of steps without a knot: gaps, beads, picots, turns, strands that move."""

from collections.abc import Iterator, Mapping, Sequence
from math import ceil
from typing import Final

from coach.plan.plan_model import PlannedStep
from coach.project import model
from coach.tui.drawing.board_frame import ColumnGrid, Patch
from coach.tui.drawing.cells import Cell, Glyphs, Line
from coach.tui.drawing.solid.solid_cords import draw_slanting, level_cord
from coach.tui.drawing.tie_glyphs import draw_across

TURNED_OVER: Final = (model.Flip, model.Seam)
_REORDERED: Final = (model.Cross, model.Add, model.LayAside, model.TakeUp, model.BringDown)
_WAY_LINES: Final = 4
_LONG_MM: Final = (20.0, 60.0)  # from which on a space has a line more


def plain_patches(step: PlannedStep, frame: ColumnGrid, *, roomy: bool) -> Iterator[Patch]:
    """Yield what a step without a knot has done to the cords; often nothing.

    Args:
        step: The step.
        frame: The columns of the strands.
        roomy: Whether it may take as many lines as it likes.
    """
    source = step.source
    if isinstance(source, _REORDERED):
        yield _ways(step, frame)
    elif isinstance(source, model.Space):
        yield from _space(step, source.length_mm, frame, roomy=roomy)
    elif isinstance(source, model.Bead):
        at = frame.columns(step.after)
        xs = [at[strand] for strand in step.groups[0]]
        yield _on(step, frame, step.groups[0], draw_bead(frame.glyphs, xs))
    elif isinstance(source, model.Picot):
        for strand in step.groups[0]:
            loop = draw_picot(frame.glyphs, strand, *_outward(step, frame, strand))
            yield _on(step, frame, (strand,), loop)
    elif isinstance(source, model.Turn):
        yield _on(step, frame, step.groups[0], _turn(step, frame))


def _on(step: PlannedStep, frame: ColumnGrid, strands: tuple[int, ...], lines: list[Line]) -> Patch:
    """Return lines on the columns from the first to the last of some strands, which stay there."""
    at = frame.columns(step.after)
    xs = [at[strand] for strand in strands]
    hanging = {x: strand for strand, x in at.items() if min(xs) <= x <= max(xs)}
    return Patch(tuple(lines), hanging)


def _space(
    step: PlannedStep, length_mm: float, frame: ColumnGrid, *, roomy: bool
) -> Iterator[Patch]:
    """Draw cords that hang free, broken where they are longer than the picture has room for."""
    at = frame.columns(step.after)
    chars = _free(frame, length_mm if roomy else 0.0)
    for group in step.groups:
        lines = [_hung(frame, {at[s]: s for s in group if s in at}, char) for char in chars]
        yield _on(step, frame, tuple(s for s in group if s in at), lines)


def gap_above(step: PlannedStep, frame: ColumnGrid, *, low: bool) -> Iterator[Patch]:
    """Yield the cords that hang free above a row of a net, where a gap is left there.

    Args:
        step: The step.
        frame: The columns of the strands.
        low: Whether it may take one line only, so that the row above stays visible.
    """
    source = step.source
    if isinstance(source, model.Net) and source.gap_mm and step.net_row > 1:
        at = frame.columns(step.before)
        own = {at[s]: s for group in step.groups for s in group if s in at}
        inside = {x: s for s, x in at.items() if min(own) <= x <= max(own)}
        chars = (frame.glyphs.slack,) if low else _free(frame, source.gap_mm)
        yield Patch(tuple([_hung(frame, inside, char) for char in chars]), inside)


def _free(frame: ColumnGrid, length_mm: float) -> Sequence[str]:
    """Return a character for each line of cords that hang free over a length."""
    longer = sum(length_mm >= long for long in _LONG_MM)
    return ("", frame.glyphs.slack, "")[: longer + 1]


def _hung(frame: ColumnGrid, strands: Mapping[int, int], char: str) -> Line:
    """Return a line of cords that hang in their columns, in a character of their own if any."""
    line: Line = {}
    for x, strand in strands.items():
        line |= {x: Cell(char, "cord", strand)} if char else frame.cord(x, strand)
    return line


def draw_bead(glyphs: Glyphs, xs: Sequence[int]) -> list[Line]:
    """Draw a bead that hides the strands in it."""
    if glyphs.wide:
        return _solid_bead(range(min(xs) - 1, max(xs) + glyphs.wide + 1))
    low, high = min(xs) - 1, max(xs) + 1
    *corners, rim = glyphs.rim
    lines = []
    for left, right in (corners[:2], corners[2:]):
        line = {x: Cell(rim, "bar") for x in range(low, high + 1)}
        line |= {low: Cell(left, "bar"), high: Cell(right, "bar")}
        lines.append(line)
    return lines


def _solid_bead(xs: range) -> list[Line]:
    ends = xs.start, xs.stop - 1
    lines = []
    for tone, corners in ((0, "▟▙"), (1, "▜▛")):
        line = {x: Cell("█", "bar", None, 0, tone) for x in xs}
        line |= {x: Cell(c, "bar", None, 0, tone) for x, c in zip(ends, corners, strict=True)}
        lines.append(line)
    return lines


def draw_picot(glyphs: Glyphs, strand: int, x: int, far: int) -> list[Line]:
    """Draw a loop that stands out.

    Args:
        glyphs: What is drawn with.
        strand: Whose loop it is.
        x: The column in which that hangs.
        far: The column that the loop reaches.
    """
    out: Line = {}
    back: Line = {}
    draw_across(out, glyphs, strand, [x, far])
    draw_across(back, glyphs, strand, [far, x])
    return [out, back]


def draw_pin(glyphs: Glyphs, strand: int, x: int, far: int) -> list[Line]:
    """Draw a strand going round a pin.

    Args:
        glyphs: What is drawn with.
        strand: The strand.
        x: The column in which it hangs.
        far: The column beyond the pin, to which it goes.
    """
    out, back = draw_picot(glyphs, strand, x, far)
    pinned = {far: Cell(glyphs.cord, "cord", strand)}
    pinned[(x + far) // 2 if abs(x - far) > 1 else x] = Cell(glyphs.pin, "bar")
    return [out, pinned, back]


def draw_turn(glyphs: Glyphs, holder: tuple[int, int], around: tuple[int, int]) -> list[Line]:
    """Draw a holder going over its neighbour and back under it.

    Args:
        glyphs: What is drawn with.
        holder: The strand that goes, and its column.
        around: The strand that it goes round, and its column.
    """
    beyond = around[1] + (1 if around[1] > holder[1] else -1)
    over, under = draw_picot(glyphs, holder[0], holder[1], beyond)
    under[around[1]] = Cell(glyphs.cord, "cord", around[0])
    return [over, under]


def _outward(step: PlannedStep, frame: ColumnGrid, strand: int) -> tuple[int, int]:
    """Return the column of a strand and one beside it, towards the edge that is nearer."""
    x = frame.columns(step.after)[strand]
    left = 2 * step.after.index(strand) < len(step.after) - 1
    return x, x + (-1 if left else 1) * min(2, frame.pitch - 1)


def _turn(step: PlannedStep, frame: ColumnGrid) -> list[Line]:
    at = frame.columns(step.after)
    holder, *around = step.groups[0]
    if not around:
        return draw_pin(frame.glyphs, holder, *_outward(step, frame, holder))
    return draw_turn(frame.glyphs, (holder, at[holder]), (around[0], at[around[0]]))


def _ways(step: PlannedStep, frame: ColumnGrid) -> Patch:
    """Draw the cords going to their new places, in enough lines to keep neighbours apart."""
    before, after = frame.columns(step.before), frame.columns(step.after)
    ways = {s: after[s] - before[s] for s in step.after if s in before}
    far = max(map(abs, ways.values()), default=0)
    parts = min(_WAY_LINES, max(1, ceil(far / max(1, frame.pitch - 1))))
    lines: list[Line] = [{} for _ in range(parts)]
    for part, line in enumerate(lines):
        for strand, way in ways.items():
            start, end = (before[strand] + way * p // parts for p in (part, part + 1))
            draw = draw_slanting if frame.glyphs.wide and start != end else draw_across
            draw(line, frame.glyphs, strand, [start, end])
    _come(lines[-1], step, frame)
    for strand in set(before) - set(after):
        lines[0].setdefault(before[strand], Cell(frame.glyphs.end, "cord", strand))
    moved = {x: s for s, x in after.items() if before.get(s) != x}
    anew = len(before) != len(after)
    inside = range(min(moved, default=0), max(moved, default=-1) + max(1, frame.glyphs.wide))
    hanging = {x: s for s, x in after.items() if anew or x in inside}
    kept = [{x: cell for x, cell in line.items() if anew or x in inside} for line in lines]
    return Patch(tuple(kept), hanging, anew)


def _come(line: Line, step: PlannedStep, frame: ColumnGrid) -> None:
    """Draw new strands, the two ends of one folded piece joined at the fold."""
    at = frame.columns(step.after)
    new = [strand for strand in step.after if strand not in step.before]
    for strand in new:
        line |= frame.cord(at[strand], strand)
    if isinstance(step.source, model.Add):
        for one, other in zip(new[::2], new[1::2], strict=False):
            if at[other] - at[one] == frame.pitch and len(new) % 2 == 0:
                between = range(at[one] + max(1, frame.glyphs.wide), at[other])
                if frame.glyphs.wide:
                    line |= level_cord(one, between, low=False, part="across")
                    continue
                line |= {x: Cell(frame.glyphs.across, "across", one) for x in between}
                line[at[one]] = Cell(frame.glyphs.turns[3], "across", one)
                line[at[other]] = Cell(frame.glyphs.turns[2], "across", other)
