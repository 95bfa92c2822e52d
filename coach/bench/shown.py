"""A widget of finished lines: drawn once for many keys, and painted where lines have changed."""

from collections.abc import Callable

from textual.geometry import Region, Size
from textual.strip import Strip
from textual.widget import Widget


class Shown(Widget):
    """Shows what a function gives for the size that there is, in columns and rows."""

    ALLOW_SELECT = False

    def __init__(self, draw: Callable[[int, int], list[Strip]], name: str) -> None:
        """Take what draws, and the widget's id."""
        super().__init__(id=name)
        self._draw = draw
        self._lines: list[Strip] = []
        self._drawn_for = Size()
        self._asked = False

    def show(self) -> None:
        """Draw anew once the keys that wait are done with; a burst of them gets one drawing."""
        if not self._asked:
            self._asked = True
            self.call_later(self._draw_anew)

    def _draw_anew(self) -> None:
        """Draw, and let those lines be painted that have changed."""
        before, size = self._lines, self._drawn_for
        self._take()
        if self.size != size:
            self.refresh()
            return
        changed = [y for y, line in enumerate(self._lines) if line != before[y]]
        if changed:
            self.refresh(*(Region(0, y, self.size.width, 1) for y in changed))

    def _take(self) -> None:
        self._asked, self._drawn_for = False, self.size
        self._lines = self._draw(*self.size)

    def render_line(self, y: int) -> Strip:
        """Give a line; after a change of size all are drawn first."""
        if self.size != self._drawn_for:
            self._take()
        return self._lines[y]
