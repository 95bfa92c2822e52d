"""Joining finished lines into the lines of a screen."""

from dataclasses import dataclass

from rich.segment import Segment
from rich.style import Style
from textual.strip import Strip


@dataclass(frozen=True, slots=True)
class Abreast:
    """Two finished lines side by side, the right one beginning at column `at`."""

    left: Strip
    right: Strip
    at: int


def with_margin(line: Strip | Abreast, margin: int, width: int, ground: Style) -> Strip:
    """Return a finished line behind a margin, filled or cut to exactly `width` columns.

    Args:
        line: The finished line, or two side by side.
        margin: How many columns stand before it.
        width: How many columns the result has.
        ground: The style of the filling.
    """
    if isinstance(line, Strip):
        parts = [(margin, line)]
    else:
        parts = [(margin, line.left.crop(0, line.at)), (margin + line.at, line.right)]
    shown: list[Segment] = []
    end = 0
    for at, part in parts:
        cut = part.crop(0, max(0, width - at))
        shown += [*_room(min(at, width) - end, ground), *cut]
        end = min(at, width) + cut.cell_length
    return Strip([*shown, *_room(width - end, ground)], width)


def _room(columns: int, ground: Style) -> list[Segment]:
    return [Segment(" " * columns, ground)] if columns else []
