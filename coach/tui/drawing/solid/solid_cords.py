"""Solid, shaded cords, the building blocks of every tie in a solid picture."""

from collections.abc import Iterable, Mapping, Sequence
from functools import cache
from typing import Final

from coach.tui.drawing.cells import Cell, Glyphs, Line, Part

LIGHT: Final = 0
BODY: Final = 1
SHADE: Final = 2
HANDS: Final = 3

_FULL: Final = "█"
_LEFT: Final = "▌"
_UPPER: Final = "▀"
_LOWER: Final = "▄"
_BAR: Final = "▇"  # all but a thin line above it
_BESIDE: Final = ("▐", "▌")


@cache
def across_cells(strand: int | None, wide: int, part: Part) -> tuple[Cell, ...]:
    """Return the cells of an upright cord from the left, light to shade.

    Args:
        strand: The strand that sets the colour, None for none.
        wide: How many columns, 1 at least.
        part: What the cells are part of.
    """
    if wide == 1:
        return (Cell(_LEFT, part, strand, 0, LIGHT, (strand, SHADE)),)
    tones = LIGHT, *[BODY] * (wide - 2), SHADE
    return tuple([Cell(_FULL, part, strand, 0, tone) for tone in tones])


def cord(glyphs: Glyphs, x: int, strand: int, part: Part = "cord") -> Line:
    """Return the cells of a cord that hangs.

    Args:
        glyphs: What is drawn with; its `wide` is the columns of a cord.
        x: The first of its columns.
        strand: Whose colour it has.
        part: What the cells are part of.
    """
    return dict(enumerate(across_cells(strand, glyphs.wide, part), start=x))


def holding_cord(glyphs: Glyphs, x: int, strand: int) -> Line:
    """Return the cells of a cord that is knotted onto: in short lengths.

    Args:
        glyphs: What is drawn with; its `wide` is the columns of a cord.
        x: The first of its columns.
        strand: Whose colour it has.
    """
    cells = [Cell(_UPPER, "holding", strand, 0, tone) for tone in (LIGHT, SHADE)]
    if glyphs.wide == 1:
        return {x: Cell(_UPPER, "holding", strand, 0, BODY)}
    return {x + n: cells[n > 0] for n in range(glyphs.wide)}


def knotting_cord(glyphs: Glyphs, x: int, strand: int) -> Line:
    """Return the cells of a cord that knots now, between bright edges in the columns beside it.

    Args:
        glyphs: What is drawn with; its `wide` is the columns of a cord.
        x: The first of the cord's own columns.
        strand: Whose colour it has.
    """
    line = cord(glyphs, x, strand, "knotting")
    line[x - 1] = Cell(_BESIDE[0], "knotting", strand, 0, HANDS)
    line[x + glyphs.wide] = Cell(_BESIDE[1], "knotting", strand, 0, HANDS)
    return line


def level_cord(strand: int, xs: Iterable[int], *, low: bool, part: Part, tone: int = BODY) -> Line:
    """Return a cord that lies level, as high as half a line.

    Args:
        strand: Whose colour it has.
        xs: Its columns.
        low: Whether it is the lower half of the line.
        part: What the cells are part of.
        tone: Its light or shade.
    """
    return {x: Cell(_LOWER if low else _UPPER, part, strand, 0, tone) for x in xs}


def bars(strand: int, xs: Iterable[int], tone: int, part: Part = "knot") -> Line:
    """Return a cord that lies level over others, a thin line apart from what is above it.

    Args:
        strand: Whose colour it has.
        xs: Its columns.
        tone: Its light or shade.
        part: What the cells are part of.
    """
    return {x: Cell(_BAR, part, strand, 0, tone) for x in xs}


def two_bars(strand: int | None, xs: Iterable[int], upper: int, lower: int) -> Line:
    """Return two level lengths of a cord, one above the other on the same line.

    Args:
        strand: Whose colour they have.
        xs: Their columns.
        upper: The light or shade of the upper one.
        lower: That of the lower one.
    """
    return {x: Cell(_UPPER, "knot", strand, 0, upper, (strand, lower)) for x in xs}


def block(char: str, strand: int | None, tone: int, part: Part = "knot") -> Cell:
    """Return one cell of a cord in a shape of its own.

    Args:
        char: The shape: a block, or a part of one.
        strand: Whose colour it has, None for none.
        tone: Its light or shade.
        part: What the cell is part of.
    """
    return Cell(char, part, strand, 0, tone)


def next_tie_cells(xs: Iterable[int], strand: int | None, char: str = _BAR) -> Line:
    """Return the place of the next tie, in the colour of its strand.

    Args:
        xs: Its columns.
        strand: The strand that will tie there, None for none.
        char: The filling character.
    """
    return {x: Cell(char, "pending", strand, 0, HANDS) for x in xs}


def draw_solid_across(line: Line, glyphs: Glyphs, strand: int, xs: Sequence[int]) -> None:
    """Draw a cord that comes from above at the first column and goes down at the last.

    Args:
        line: The line, which is written to.
        glyphs: What is drawn with; its `wide` is the columns of a cord.
        strand: Whose colour it has.
        xs: Columns, the first and the last of which count.
    """
    first, last, wide = xs[0], xs[-1], glyphs.wide
    if first == last:
        line.update(cord(glyphs, first, strand))
        return
    between = range(min(first, last), max(first, last) + wide)
    line.update(level_cord(strand, between, low=True, part="across"))
    line.update(cord(glyphs, first, strand, "across"))


def draw_slanting(line: Line, glyphs: Glyphs, strand: int, xs: Sequence[int]) -> None:
    """Draw a cord that goes over others from one column to another, high at first, then low.

    Args:
        line: The line, which is written to.
        glyphs: What is drawn with; its `wide` is the columns of a cord.
        strand: Whose colour it has.
        xs: Columns, the first and the last of which count.
    """
    first, last, wide = xs[0], xs[-1], glyphs.wide
    low, high = min(first, last), max(first, last) + wide
    middle = (low + high) / 2
    for x in range(low, high):
        early = (x + 0.5 < middle) == (last > first)
        tones = (LIGHT, SHADE) if early else (BODY, LIGHT)
        char = _UPPER if early else _LOWER
        line[x] = Cell(char, "across", strand, 0, tones[0])
    line.update(cord(glyphs, first, strand, "across"))


def turn_top(cell: Cell) -> Cell:
    """Return the upper end of a turn, in the line above it: half as high, in its darker tone."""
    tone = cell.under[1] if cell.under else cell.tone
    return Cell(_LOWER, cell.part, cell.strand, 0, tone)


def draw_lobe(line: Line, glyphs: Glyphs, strand: int, xs: Sequence[int]) -> None:
    """Draw a strand of a plait over another one: a lobe from the edge, in shade where it ends.

    Args:
        line: The line, which is written to.
        glyphs: What is drawn with; its `wide` is the columns of a cord.
        strand: Whose colour it has.
        xs: Columns on its way; it comes from the first and ends at the last.
    """
    low, high = min(xs), max(xs) + glyphs.wide
    tones = (LIGHT, BODY, SHADE) if xs[0] < xs[-1] else (SHADE, BODY, LIGHT)
    for x in range(low, high):
        line[x] = Cell(_BAR, "across", strand, 0, tones[(x - low) * len(tones) // (high - low)])


def nearest_strand(x: int, strands: Sequence[int], at: Mapping[int, int]) -> int:
    """Return the strand whose column is nearest to another.

    Args:
        x: A column.
        strands: Those to choose from.
        at: The column of each.
    """
    return min(strands, key=lambda strand: abs(at[strand] - x))
