"""A widget of finished lines: drawn once for many keys, and painted where lines have changed."""

from collections.abc import Callable, Sequence
from typing import TypeAlias

from textual.geometry import Region, Size
from textual.strip import Strip
from textual.widget import Widget

Draw: TypeAlias = Callable[[int, int], Sequence[Strip]]


class Shown(Widget):
    """Shows what a function gives for the size that there is, in columns and rows.

    What is looked at first can be painted first, the rest as soon as that is on the screen.
    """

    ALLOW_SELECT = False

    def __init__(self, draw: Draw, name: str, first: Draw | None = None) -> None:
        """Take what draws all, the widget's id, and what draws the first lines, if it likes."""
        super().__init__(id=name)
        self._first = first
        self._draw = draw
        self._lines: list[Strip] = []
        self._drawn_for = Size()
        self._asked = False

    def show(self) -> None:
        """Draw anew; what is asked for before the rest is drawn comes with that.

        Without a size yet there is nothing to draw: the first frame will be asked for by itself.
        """
        if self.size and not self._asked:
            self._asked = True
            if self._first:
                self._paint(self._first(*self.size))
            self.call_after_refresh(self._draw_rest)

    def _draw_rest(self) -> None:
        self._asked = False
        self._paint(self._draw(*self.size))

    def _paint(self, lines: Sequence[Strip]) -> None:
        """Take lines from the first one on; those that have changed are painted."""
        if self.size != self._drawn_for:
            self.refresh()
            return
        changed = [y for y, line in enumerate(lines) if line != self._lines[y]]
        self._lines[: len(lines)] = lines
        if changed:
            self.refresh(*(Region(0, y, self.size.width, 1) for y in changed))

    def render_line(self, y: int) -> Strip:
        """Return a line; after a change of size all are drawn first."""
        if self.size != self._drawn_for:
            self._drawn_for = self.size
            self._lines = list(self._draw(*self.size))
        return self._lines[y]
