"""Rows of a picture, and the progress bar, as styled lines."""

from collections.abc import Iterable, Sequence
from itertools import groupby
from operator import itemgetter

from rich.style import Style
from rich.text import Span, Text

from coach.tui.drawing.cells import UNICODE, Cell, Glyphs
from coach.tui.layout.styled_text import Inks, Look, written


def painted(rows: Iterable[Sequence[Cell]], inks: Inks) -> list[Text]:
    """Return rows of cells as styled lines, cells that look alike as one run."""
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


def bar(inks: Inks, glyphs: Glyphs, done: int, total: int, width: int) -> Text:
    """Return the progress bar of the piece with its figures at the end.

    Args:
        inks: The styles.
        glyphs: The characters, lines or ASCII.
        done: How many counts are made.
        total: How many there are.
        width: The columns that bar and figures take together.
    """
    told = f"  {done} of {total}"
    room = max(0, width - len(told))
    filled = room * done // total if total else room
    full, empty = ("━", "─") if glyphs is UNICODE else ("=", "-")
    return written(
        (full * filled, inks.style("figure")),
        (empty * (room - filled), inks.style("room")),
        (told, inks.style("quiet")),
    )
