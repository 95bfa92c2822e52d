"""A screen of lines made for the terminal's size; it takes every key itself."""

from collections.abc import Sequence
from typing import TypeVar

from rich.text import Text
from textual import events
from textual.app import ComposeResult
from textual.strip import Strip

from coach.tui.layout.strip_view import Shown
from coach.tui.layout.styled_text import Inks, fitted, sized
from coach.tui.screens.bench_screen import BenchScreen

T = TypeVar("T")
_MARGINS = 2
_NARROW = 20  # columns up to which no margin is left


class LinesScreen(BenchScreen[T]):
    """Shows what `lines` gives and hands keys to `pressed`; nothing on it takes the focus."""

    AUTO_FOCUS = ""
    DEFAULT_CSS = """
    LinesScreen { overflow: hidden hidden; }
    LinesScreen > #lines { width: 100%; height: 1fr; }
    """

    def __init__(self, inks: Inks) -> None:
        super().__init__()
        self.inks = inks
        self._sheet = Shown(self._drawn, "lines")

    def lines(self, width: int, height: int) -> Sequence[Text]:
        """Return the lines for a room of so many columns and rows."""
        raise NotImplementedError

    def pressed(self, key: str) -> bool:
        """Do what a key asks; give whether it asks anything here."""
        raise NotImplementedError

    def compose(self) -> ComposeResult:
        """Yield the one widget that shows the lines."""
        yield self._sheet

    def on_screen_resume(self) -> None:
        """Show again what another screen has covered."""
        self.show()

    def on_key(self, event: events.Key) -> None:
        """Take the keys of this screen."""
        if self.pressed(event.key):
            event.stop()
            event.prevent_default()
            if self.is_current:
                self.show()

    def show(self) -> None:
        """Let everything be drawn anew for the size that there is."""
        self._sheet.show()

    def _drawn(self, width: int, height: int) -> list[Strip]:
        inner = width - _MARGINS if width > _NARROW else width
        margin = " " * (inner < width)
        drawn = self.lines(inner, height)[:height]
        rows = [*drawn, *[Text()] * (height - len(drawn))]
        return [self.inks.finished(sized(Text(margin) + line, width)) for line in rows]


def in_view(at: int, count: int, most: int) -> range:
    """Return the entries of a list that there is room for, the one at `at` among them.

    Only these are to be written: what a key costs must not grow with the list.
    """
    first = max(0, min(at - most // 2, count - most))
    return range(first, min(first + most, count))


def keys_at_foot(inks: Inks, width: int, most: int, keys: Sequence[tuple[str, str]]) -> list[Text]:
    """Return at most so many lines of keys and what they do, as many as fit."""
    lines = [Text()]
    for key, what in keys:
        if not key:
            continue
        part = Text(key, inks.style("figure", bold=True)) + Text(f" {what}", inks.style("quiet"))
        if lines[-1].cell_len and lines[-1].cell_len + 2 + part.cell_len > width:
            if len(lines) == most:
                break
            lines.append(Text())
        lines[-1] += Text("  " if lines[-1].cell_len else "") + part
    return lines


def at_both_ends(left: Text, right: Text, width: int) -> Text:
    """Put one text at each end of a line; the left one is cut where there is too little room."""
    room = width - right.cell_len - 2
    if room < 8:  # noqa: PLR2004 - too little to tell anything
        return sized(left, width)
    short = Text(fitted(left.plain, room), left.style)
    return sized(short, width - right.cell_len) + right
