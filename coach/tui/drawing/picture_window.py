"""The visible part of a board's picture, where the work is wider than the room."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import partial
from itertools import islice
from typing import Final

from coach.plan.plan_model import Count
from coach.tui.drawing.board_frame import ColumnGrid
from coach.tui.drawing.cells import BLANK, Cell, Glyphs, Line
from coach.tui.drawing.kept_lines import KeptLines

MARGIN: Final = 3
"""Columns beside the outermost cords."""

_SIGN: Final = 2  # columns that the sign of more work takes at a side
_SIGNED: Final = 2 * _SIGN + 1  # columns from which there is room for both


@dataclass(frozen=True, slots=True)
class Picture:
    """Rows of cells, each `width` long.

    `columns` is where each strand hangs, without those outside; the last `labels` rows say who
    hangs there. `wide` is how many columns a solid cord has, 0 for a line.
    """

    rows: tuple[tuple[Cell, ...], ...]
    columns: dict[int, int]
    labels: int = 0
    wide: int = 0

    def text(self) -> str:
        """Return the characters alone, a line for each row."""
        return "\n".join("".join(cell.char for cell in row).rstrip() for row in self.rows)


def window(
    rows: Sequence[Line], frame: ColumnGrid, order: Sequence[int], count: Count | None, width: int,
    *, kept: KeptLines,
) -> Picture:  # fmt: skip
    """Cut out the part that fits, following the work in half-window steps.

    Args:
        rows: The lines of the whole picture.
        frame: Where its columns stand.
        order: The strands from the left.
        count: The next count, None where all is made.
        width: The columns that there are.
        kept: The cache of rows.
    """
    at = frame.columns(order)
    whole = frame.left + (len(order) - 1) * frame.pitch + MARGIN + 1
    start = 0
    if whole > width:
        hands = [at[s] for s in (*count.knotters, *count.fillers) if s in at] if count else []
        start = _start(hands or [0], whole, width)
    how = start, width
    cut = [kept.kept(line, how, partial(_part_of, line, start, width)) for line in rows]
    left, right = (width >= _SIGNED and more for more in (start > 0, start + width < whole))
    if left or right:
        cut = [_edged(row, frame.glyphs, left, right) for row in cut]
    low, high = _SIGN * left, width - _SIGN * right
    inside = {strand: x - start for strand, x in at.items() if low <= x - start < high}
    return Picture(tuple(cut), inside)


def _part_of(line: Line, start: int, width: int) -> tuple[Cell, ...]:
    """Return the cells of a line from a column on, without numbers or words cut in two.

    The first two and the last two columns may be taken by the signs that there is more.
    """
    edges = (
        ((start + _SIGN, 1), (start + width - _SIGN - 1, -1))
        if start
        else ((width - _SIGN - 1, -1),)
    )
    out = set()
    for edge, way in edges:
        x = edge
        while _continues(line, x, x - way) and line[x - way] != BLANK:
            out.add(x)
            if not _continues(line, x + way, x):
                break
            x += way
    left = {x: cell for x, cell in line.items() if x not in out} if out else line
    return tuple([left.get(x, BLANK) for x in range(start, start + width)])


def _continues(line: Line, x: int, beside: int) -> bool:
    """Return whether two neighbouring cells are characters of one number or word."""
    return all(at in line and line[at].part in ("number", "here", "word") for at in (x, beside))


def _start(hands: Sequence[int], whole: int, width: int) -> int:
    """Return the first visible column: a multiple of half the width, the work well inside."""
    # A tie over the seam has hands at both ends; its first knotter's end is shown.
    near = [x for x in hands if abs(x - hands[0]) < width]
    stride = max(1, width // 2)
    middle = (min(near) + max(near)) // 2
    wanted = round((middle - width / 2) / stride) * stride
    return max(0, min(wanted, whole - width))


def _edged(row: tuple[Cell, ...], glyphs: Glyphs, left: bool, right: bool) -> tuple[Cell, ...]:
    """Return a row with signs at the sides that continue."""
    before, after = glyphs.more
    first = (Cell(before, "edge"), BLANK) if left else row[:2]
    last = (BLANK, Cell(after, "edge")) if right else row[-2:]
    return (*first, *islice(row, 2, len(row) - 2), *last)
