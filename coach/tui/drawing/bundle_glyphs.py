"""Ties of a whole bundle on the board: strands gathered, knotted or wrapped, let go again."""

from collections.abc import Mapping, Sequence
from typing import Final

from coach.knots import names
from coach.knots.catalogue import pass_count
from coach.plan.plan_model import Count
from coach.tui.drawing.cells import Cell, Glyphs, Line

_WRAPS: Final = 2  # lines of turns that a gathering knot is drawn with
_MOST_TURNS: Final = 6
_TURNS: Final = {knot: pass_count(knot) for knot in names.BUNDLE_KNOTS}


def draw_bundle(glyphs: Glyphs, count: Count, at: Mapping[int, int], *, roomy: bool) -> list[Line]:
    """Draw an overhand, barrel or gathering knot: strands drawn into one lump.

    With little room it is one line, the lump between the cords that come in.
    """
    strands = sorted((s for s in (*count.knotters, *count.fillers) if s in at), key=lambda s: at[s])
    body = _body(glyphs, count, len(strands))
    own = None if count.knot in _TURNS else count.knotters[0]
    middle = (at[strands[0]] + at[strands[-1]]) // 2
    lump = [_lump(body, middle, strands, at, own)] * (
        _WRAPS if roomy and count.knot == names.GATHERING else 1
    )
    if len(strands) == 1:
        return lump
    gathered = _gathered(glyphs, strands, at, middle)
    if not roomy:
        return [{**gathered, **lump[0]}]
    return [gathered, *lump, _let_go(glyphs, strands, at, middle)]


def _body(glyphs: Glyphs, count: Count, strands: int) -> str:
    """Return the lump: slanting turns of a knot, level ones of a wrap."""
    if count.knot == names.GATHERING:
        left, turn, right = glyphs.wrap
        return left + turn * max(3, min(strands, _MOST_TURNS) | 1) + right
    left, turn, right = glyphs.lump
    return left + turn * _TURNS.get(count.knot, min(count.passes, _MOST_TURNS)) + right


def _lump(
    body: str, middle: int, strands: Sequence[int], at: Mapping[int, int], own: int | None
) -> Line:
    start = middle - len(body) // 2
    return {
        x: Cell(char, "knot", _nearest(x, strands, at) if own is None else own)
        for x, char in enumerate(body, start=start)
    }


def _gathered(glyphs: Glyphs, strands: Sequence[int], at: Mapping[int, int], middle: int) -> Line:
    """Draw the strands coming in from both sides."""
    line = _run(glyphs, strands, at, glyphs.joins[0])
    line[at[strands[0]]] = Cell(glyphs.turns[0], "across", strands[0])
    line[at[strands[-1]]] = Cell(glyphs.turns[1], "across", strands[-1])
    line[middle] = line[middle]._replace(char=glyphs.joins[1])
    return line


def _let_go(glyphs: Glyphs, strands: Sequence[int], at: Mapping[int, int], middle: int) -> Line:
    """Draw the strands going back to their places."""
    line = _run(glyphs, strands, at, glyphs.joins[1])
    line[at[strands[0]]] = Cell(glyphs.turns[3], "across", strands[0])
    line[at[strands[-1]]] = Cell(glyphs.turns[2], "across", strands[-1])
    line[middle] = line[middle]._replace(char=glyphs.joins[0])
    return line


def _run(glyphs: Glyphs, strands: Sequence[int], at: Mapping[int, int], joint: str) -> Line:
    low, high = at[strands[0]], at[strands[-1]]
    line = {
        x: Cell(glyphs.across, "across", _nearest(x, strands, at)) for x in range(low, high + 1)
    }
    for strand in strands:
        line[at[strand]] = Cell(joint, "across", strand)
    return line


def _nearest(x: int, strands: Sequence[int], at: Mapping[int, int]) -> int:
    return min(strands, key=lambda strand: abs(at[strand] - x))


def draw_bar_hitch(glyphs: Glyphs, knotter: int, x: int) -> Line:
    """Draw a hitch onto a bar.

    Args:
        glyphs: The characters.
        knotter: The strand that ties it.
        x: The column of that strand.
    """
    line = {at: Cell(glyphs.bar, "bar") for at in range(x - 2, x + 3)}
    turns = range(x, x + 2) if glyphs.hitch[0] else (x,)
    return {**line, **{at: Cell(glyphs.hitch[0], "knot", knotter) for at in turns}}
