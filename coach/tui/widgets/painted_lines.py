"""A widget of finished lines that repaints only changed ones."""

from collections.abc import Callable, Iterator, Sequence
from itertools import groupby
from typing import TypeAlias

from textual.filter import ANSIToTruecolor
from textual.geometry import Region, Size
from textual.strip import Strip
from textual.widget import Widget

Draw: TypeAlias = Callable[[int, int], Sequence[Strip]]


class PaintedLines(Widget):
    """Shows the lines that a function draws for its size, in columns and rows."""

    ALLOW_SELECT = False

    def __init__(self, draw: Draw, name: str) -> None:
        """Set the function that draws the lines, and the widget's id."""
        super().__init__(id=name)
        self._draw = draw
        self._lines: list[Strip] = []
        self._drawn_for = Size()
        self.painted: Callable[[Sequence[int]], None] = lambda _: None
        """Called with the numbers of the lines that are painted anew."""

    def show(self) -> None:
        """Draw anew, and repaint the lines that have changed.

        After a change of size they are drawn when they are painted. Before the first layout there
        is no size, and nothing to do.
        """
        size = self.size
        if not size:
            return
        if size != self._drawn_for:
            # Drawn in `_fit` then, for the new size, and not twice.
            self.refresh()
            return
        before, self._lines = self._lines, list(self._draw(*size))
        changed = [y for y, line in enumerate(self._lines) if line != before[y]]
        if changed:
            self.refresh(*_regions(changed, size.width))
            self.painted(changed)

    def render_lines(self, crop: Region) -> list[Strip]:
        """Return the finished lines within a region.

        They need no frame and no colour looked up by Textual, which takes it longer than all else
        of painting.
        """
        self._fit()
        lines = self._lines[crop.y : crop.bottom]
        if crop.column_span != (0, self._drawn_for.width):
            lines = [line.crop(*crop.column_span) for line in lines]
        for change in self.app.get_line_filters():
            # No line has a colour that this filter would have to look up.
            if not isinstance(change, ANSIToTruecolor):
                lines = [line.apply_filter(change, self.background_colors[1]) for line in lines]
        return lines

    def _fit(self) -> None:
        """Draw all anew after a change of size."""
        size = self.size  # worked out each time that it is asked for
        if size != self._drawn_for:
            self._drawn_for = size
            self._lines = list(self._draw(*size))
            self.painted(range(size.height))


def _regions(lines: Sequence[int], width: int) -> Iterator[Region]:
    """Yield a region for each run of lines, given by their numbers from the top."""
    for _, run in groupby(enumerate(lines), key=lambda each: each[1] - each[0]):
        numbers = [number for _, number in run]
        yield Region(0, numbers[0], width, len(numbers))
