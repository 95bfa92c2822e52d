"""The base classes of screens: all close only once, and most are lines made for their size."""

from collections.abc import Sequence
from typing import TypeVar

from rich.text import Text
from textual import events
from textual.app import ComposeResult
from textual.await_complete import AwaitComplete
from textual.screen import Screen
from textual.strip import Strip

from coach.tui.layout.strip_view import Shown
from coach.tui.layout.styled_text import Inks, fitted, sized

T = TypeVar("T")
_MARGINS = 2
_NARROW = 20  # columns up to which no margin is left


class BenchScreen(Screen[T]):
    """A screen that closes once, from however many sides it is closed at a time."""

    def dismiss(self, result: T | None = None) -> AwaitComplete:
        """Close this screen if it is the current one; else it is closed already, or covered."""
        if not self.is_current:
            return AwaitComplete()
        return super().dismiss(result)


class LinesScreen(BenchScreen[T]):
    """Shows what `lines` returns and hands keys to `pressed`; nothing on it takes the focus."""

    AUTO_FOCUS = ""

    def __init__(self, inks: Inks) -> None:
        super().__init__()
        self.inks = inks
        self._sheet = Shown(self._drawn, "lines")

    def lines(self, width: int, height: int) -> Sequence[Text]:
        """Return the lines for so many columns and rows."""
        raise NotImplementedError

    def pressed(self, key: str) -> bool:
        """Do what a key asks for, and return whether it asks for anything here."""
        raise NotImplementedError

    def compose(self) -> ComposeResult:
        """Yield the one widget that shows the lines."""
        yield self._sheet

    def on_screen_resume(self) -> None:
        """Show again what another screen has covered."""
        self.show()

    def on_key(self, event: events.Key) -> None:
        """Handle a key of this screen; leave all others to whoever comes next."""
        if self.pressed(event.key):
            event.stop()
            event.prevent_default()
            if self.is_current:
                self.show()

    def show(self) -> None:
        """Draw anew, and repaint what has changed."""
        self._sheet.show()

    def _drawn(self, width: int, height: int) -> list[Strip]:
        inner = width - _MARGINS if width > _NARROW else width
        margin = " " * (inner < width)
        drawn = self.lines(inner, height)[:height]
        rows = [*drawn, *[Text()] * (height - len(drawn))]
        return [self.inks.finished(sized(Text(margin) + line, width)) for line in rows]


def in_view(at: int, count: int, most: int) -> range:
    """Return the entries of a list of `count` that are shown, at most `most`, with `at` among them.

    Only these are to be written, for what a key costs must not grow with the list.
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
