"""The pace over a piece, as plain blocks: how much slower or quicker than the piece's own mean."""

from collections.abc import Sequence
from typing import Final

from coach.piece.reports.time_spent import TimeRecord

_ROWS: Final = 6
_TOP: Final = 2.0  # times the mean pace at the upper edge
_EIGHTHS: Final = " ▁▂▃▄▅▆▇█"
_LEAST: Final = 8  # spells from which on a picture says more than a number


def pace_plot(record: TimeRecord, total: int, width: int, *, plain: bool = False) -> list[str]:
    """Return lines of at most `width` columns; none where too little was made.

    A column is a stretch of the piece; its height is the time worked on it over the time that
    its knots take on the whole, so that slow knots do not stand out, only slow hands.
    """
    if len(record.spells) < _LEAST or total < 1:
        return []
    label = 7
    columns = max(10, min(width - label, total))
    heights = _heights(record, total, columns)
    lines = [
        f"{_label(row):>{label - 1}} {_row(heights, row, plain=plain)}" for row in range(_ROWS)
    ]
    edge = f"{'':{label}}{'from the first tie':<{max(0, columns - 11)}}to the last"
    return [*lines, edge[:width]]


def _label(row: int) -> str:
    """Name the upper edge and the mean."""
    if row == 0:
        return f"{_TOP:g} x"
    return "mean" if row == _ROWS // 2 else ""


def _heights(record: TimeRecord, total: int, columns: int) -> list[float]:
    """Give, for each column, the time worked over the time to be expected of its knots."""
    worked, usual = [0.0] * columns, [0.0] * columns
    for spell in record.spells:
        at = min(columns - 1, spell.first * columns // total)
        worked[at] += spell.worked_s
        usual[at] += record.knots[spell.knot].pace_s * spell.counts
    return [spent / mean if mean else 0.0 for spent, mean in zip(worked, usual, strict=True)]


def _row(heights: Sequence[float], row: int, *, plain: bool) -> str:
    """Return one row of blocks, the uppermost being row 0."""
    under = _ROWS - 1 - row
    cells = []
    for height in heights:
        eighths = round(min(height / _TOP, 1.0) * _ROWS * 8) - under * 8
        filled = max(0, min(8, eighths))
        cells.append("#" * (filled >= 4) or " " if plain else _EIGHTHS[filled])  # noqa: PLR2004 - half a cell
    return "".join(cells).rstrip()
