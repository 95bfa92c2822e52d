"""Shrinking a whole picture to fewer rows and columns."""

from collections import Counter
from collections.abc import Sequence
from itertools import pairwise
from typing import Final, TypeAlias, TypeVar

from coach.plan.plan_model import Plan
from coach.tui.drawing.cells import BLANK, Cell, Part
from coach.tui.drawing.picture_window import MARGIN

T = TypeVar("T")
_Dot: TypeAlias = tuple[Part, int | None, int, int] | None
"""Half a cell: what it is, of which strand, how old and how light; None for the ground."""
_LABELS: Final = ("number", "here", "initial", "short", "word", "edge")
_LEAST_DRAWN: Final = 3  # a thin cord is seen where it has a third of the place
_LOWER: Final = "▄▃▂▁"
"""Blocks that fill the lower half of a cell, or most of that."""


def least_width(plan: Plan) -> int:
    """Return the columns in which all strands of a finished piece hang beside each other."""
    return 2 * (len(plan.finish) or len(plan.strands)) + 2 * MARGIN + 2


def shrink_picture(rows: Sequence[Sequence[Cell]], width: int, height: int) -> list[list[Cell]]:
    """Return a picture in at most `width` columns and `height` rows, without its labels.

    A solid one is sampled in half cells, each by the majority of what is there; one in lines leaves
    out some rows and columns.
    """
    drawn = _cropped([list(row) for row in rows if not any(c.part in _LABELS for c in row)])
    if not drawn or width < 1 or height < 1:
        return []
    if not any(cell.under or cell.char == "▇" for row in drawn for cell in row):
        return _thinned(drawn, width, height)
    if len(drawn) <= height and len(drawn[0]) <= width:
        return drawn
    dots = [half for row in drawn for half in _halves(row)]
    lines = _bins(dots, 2 * min(height, len(drawn)))
    small = [
        [_most(cell) for cell in _bins(list(zip(*line, strict=True)), min(width, len(drawn[0])))]
        for line in lines
    ]
    return [[*map(_cell, *pair)] for pair in zip(small[::2], small[1::2], strict=True)]


def _cropped(rows: list[list[Cell]]) -> list[list[Cell]]:
    """Return the rows without empty margins."""
    places = [(x, y) for y, row in enumerate(rows) for x, c in enumerate(row) if c.char != " "]
    if not places:
        return []
    columns, lines = zip(*places, strict=True)
    return [row[min(columns) : max(columns) + 1] for row in rows[lines[0] : lines[-1] + 1]]


def _thinned(rows: list[list[Cell]], width: int, height: int) -> list[list[Cell]]:
    wide, high = min(width, len(rows[0])), min(height, len(rows))
    lines = [rows[n * (len(rows) - 1) // max(1, high - 1)] for n in range(high)]
    return [
        [next((c for c in cells if c.char != " "), BLANK) for cells in _bins(line, wide)]
        for line in lines
    ]


def _halves(row: Sequence[Cell]) -> tuple[list[_Dot], list[_Dot]]:
    """Return the upper and the lower halves of a row of cells."""
    return [_half(cell, upper=True) for cell in row], [_half(cell, upper=False) for cell in row]


def _half(cell: Cell, *, upper: bool) -> _Dot:
    if cell.char == " ":
        return None
    hidden = cell.char in _LOWER if upper else cell.char == "▀"
    if not hidden:
        return cell.part, cell.strand, cell.age, cell.tone
    return (cell.part, cell.under[0], cell.age, cell.under[1]) if cell.under else None


def _bins(every: Sequence[T], number: int) -> list[Sequence[T]]:
    """Divide a sequence into a number of runs."""
    at = [n * len(every) // number for n in range(number + 1)]
    return [every[low:high] for low, high in pairwise(at)]


def _most(dots: Sequence[Sequence[_Dot]]) -> _Dot:
    """Return the most common of some dots; the ground only by a large majority."""
    every = [dot for line in dots for dot in line]
    drawn = [dot for dot in every if dot]
    if len(drawn) * _LEAST_DRAWN < len(every):
        return None
    if 2 * drawn.count(drawn[0]) >= len(drawn):
        return drawn[0]  # counting all of them takes five times as long
    return Counter(drawn).most_common(1)[0][0]


def _cell(upper: _Dot, lower: _Dot) -> Cell:
    if upper is None:
        return Cell("▄", *lower) if lower else BLANK
    if lower == upper:
        return Cell("█", *upper)
    return Cell("▀", *upper, under=(lower[1], lower[3]) if lower else None)
