"""Rows of a picture as styled lines of text."""

from collections.abc import Iterable, Sequence
from itertools import groupby
from operator import itemgetter

from rich.style import Style
from rich.text import Span, Text

from coach.tui.drawing.cells import Cell
from coach.tui.layout.styled_text import Inks, Look


def painted(rows: Iterable[Sequence[Cell]], inks: Inks) -> list[Text]:
    """Return the rows of a picture as styled lines, cells that look alike as one run."""
    styles: dict[Look, Style] = {}
    lines = []
    for row in rows:
        spans, at = [], 0
        for look, cells in groupby(row, key=itemgetter(1, 2, 3, 4, 5)):
            if look not in styles:
                styles[look] = inks.of_cell(*look)
            end = at + len(list(cells))
            spans.append(Span(at, end, styles[look]))
            at = end
        lines.append(Text("".join(cell.char for cell in row), spans=spans))
    return lines
