"""Solid pictures of knots that draw strands together: balls, lumps and woven halves."""

from collections.abc import Sequence
from typing import Final

from coach.knots import names
from coach.knots.catalogue import pass_count
from coach.plan.plan_model import Count
from coach.tui.drawing.cells import Cell, Columns, Glyphs, Line
from coach.tui.drawing.solid.solid_cords import (
    BODY,
    LIGHT,
    SHADE,
    bars,
    block,
    cord,
    level_cord,
    nearest_strand,
)

_MOST_TURNS: Final = 4


def draw_solid_ball(glyphs: Glyphs, count: Count, at: Columns) -> list[Line]:
    """Draw a sennit that is rolled up on itself.

    Args:
        glyphs: What is drawn with.
        count: The knot that rolls it up.
        at: The column of each strand on the board.
    """
    own = [at[s] for s in (*count.knotters, *count.fillers) if s in at]
    low, high = min(own), max(own) + glyphs.wide - 1
    who, xs = count.knotters[0], range(min(own) + 1, max(own) + glyphs.wide - 1)
    top, low_line = bars(who, xs, LIGHT), bars(who, xs, BODY)
    top |= {low: block("▟", who, LIGHT), high: block("▙", who, SHADE)}
    low_line |= {low: block("▜", who, BODY), high: block("▛", who, SHADE)}
    return [top, low_line]


def draw_solid_woven(
    glyphs: Glyphs, strands: tuple[int, ...], at: Columns, rows: int
) -> list[Line]:
    """Draw two halves woven through each other, over and under by turns.

    Args:
        glyphs: What is drawn with.
        strands: From the left, the first half of them being one of the two.
        at: The column of each strand.
        rows: How many lines it takes.
    """
    own = [at[s] for s in strands]
    low, high = min(own), max(own) + glyphs.wide
    half, lines = len(strands) // 2, []
    for row in range(rows):
        line: Line = {}
        for x in range(low, high):
            pair = strands[half:] if ((x - low) // 2 + row) % 2 else strands[:half]
            other = strands[:half] if pair[0] == strands[half] else strands[half:]
            over, under = nearest_strand(x, pair, at), nearest_strand(x, other, at)
            line[x] = Cell("▀", "knot", over, 0, LIGHT, (under, SHADE))
        lines.append(line)
    return lines


def draw_solid_bundle(glyphs: Glyphs, count: Count, at: Columns, *, roomy: bool) -> list[Line]:
    """Draw an overhand, barrel or gathering knot: the strands come together into one lump.

    Args:
        glyphs: What is drawn with.
        count: The tie.
        at: The column of each strand on the board.
        roomy: Whether it may take a line for each turn, and one above and below the lump.
    """
    strands = sorted((s for s in (*count.knotters, *count.fillers) if s in at), key=lambda s: at[s])
    who = None if count.knot in names.BUNDLE_KNOTS else count.knotters[0]
    middle = (at[strands[0]] + at[strands[-1]] + glyphs.wide - 1) // 2
    turns = 2 if count.knot == names.GATHERING else 1
    if count.knot in names.BUNDLE_KNOTS:
        turns = pass_count(count.knot)
    elif count.knot == names.BARREL:
        turns = min(_MOST_TURNS, max(2, count.passes // 2))
    half = max(1, min(len(strands) * glyphs.wide, 7) // 2)
    span = middle - half, middle + half
    lump = [_lump(span, strands, at, who, turn) for turn in range(turns if roomy else 1)]
    if len(strands) == 1:
        return lump
    if not roomy:
        return [_drawn_in(glyphs, strands, at, low=False) | lump[0]]
    ends = [_drawn_in(glyphs, strands, at, low=low) for low in (True, False)]
    return [ends[0], *lump, ends[1]]


def _lump(span: tuple[int, int], strands: Sequence[int], at: Columns, who: int | None, turn: int
) -> Line:  # fmt: skip
    """Draw one turn of a lump from one column to another, in the colours of whom it consists."""
    low, high = span

    def own(x: int) -> int:
        return nearest_strand(x, strands, at) if who is None else who

    tone = LIGHT if turn % 2 == 0 else BODY
    line = {x: block("▇", own(x), tone) for x in range(low, high + 1)}
    line[low - 1] = block("▐", own(low), LIGHT)
    line[high + 1] = block("▌", own(high), SHADE)
    return line


def _drawn_in(glyphs: Glyphs, strands: Sequence[int], at: Columns, *, low: bool) -> Line:
    """Draw the strands coming in from both sides, or going back to their places."""
    line: Line = {}
    for x in range(at[strands[0]], at[strands[-1]] + glyphs.wide):
        line |= level_cord(nearest_strand(x, strands, at), [x], low=low, part="across", tone=BODY)
    for strand in strands:
        line |= cord(glyphs, at[strand], strand, "across")
    return line
