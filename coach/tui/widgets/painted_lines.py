"""A widget of finished lines that repaints only those which have changed."""

from collections.abc import Callable, Sequence
from typing import TypeAlias

from textual.geometry import Region, Size
from textual.strip import Strip
from textual.widget import Widget

Draw: TypeAlias = Callable[[int, int], Sequence[Strip]]


class Shown(Widget):
    """Shows the lines that a function draws for its size, in columns and rows."""

    ALLOW_SELECT = False

    def __init__(self, draw: Draw, name: str) -> None:
        """Take what draws the lines, and the widget's id."""
        super().__init__(id=name)
        self._draw = draw
        self._lines: list[Strip] = []
        self._drawn_for = Size()
        self.painted: Callable[[Sequence[int]], None] = lambda _: None
        """Called with the numbers of the lines that are painted anew."""

    def show(self) -> None:
        """Draw anew, and repaint the lines that are not as they were.

        After a change of size they are drawn when they are painted. Before the first layout there
        is no size, and nothing to do.
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
            self.painted(changed)

    def render_line(self, y: int) -> Strip:
        """Return a line for painting; draw all anew first after a change of size."""
        if self.size != self._drawn_for:
            self._drawn_for = self.size
            self._lines = list(self._draw(*self.size))
            self.painted(range(self.size.height))
        return self._lines[y]
