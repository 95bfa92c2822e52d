"""A widget of finished lines that paints those which have changed."""

from collections.abc import Callable, Sequence
from typing import TypeAlias

from textual.geometry import Region, Size
from textual.strip import Strip
from textual.widget import Widget

Draw: TypeAlias = Callable[[int, int], Sequence[Strip]]


class Shown(Widget):
    """Shows the lines that a function draws for the size there is, in columns and rows."""

    ALLOW_SELECT = False

    def __init__(self, draw: Draw, name: str) -> None:
        """Take what draws the lines, and the widget's id."""
        super().__init__(id=name)
        self._draw = draw
        self._lines: list[Strip] = []
        self._drawn_for = Size()

    def show(self) -> None:
        """Draw anew and paint the lines that are not as they were.

        For a size that nothing was drawn for yet all are drawn when they are painted; without
        any size the first frame will be asked for by itself.
        """
        if not self.size:
            return
        if self.size != self._drawn_for:
            self.refresh()
            return
        before, self._lines = self._lines, list(self._draw(*self.size))
        changed = [y for y, line in enumerate(self._lines) if line != before[y]]
        if changed:
            self.refresh(*(Region(0, y, self.size.width, 1) for y in changed))

    def render_line(self, y: int) -> Strip:
        """Return a line; after a change of size all are drawn first."""
        if self.size != self._drawn_for:
            self._drawn_for = self.size
            self._lines = list(self._draw(*self.size))
        return self._lines[y]
