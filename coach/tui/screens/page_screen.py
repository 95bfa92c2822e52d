"""A page of text over the work: it scrolls, and most keys close it."""

from collections.abc import Callable, Sequence
from typing import Final, TypeAlias

from rich.text import Text
from textual import events
from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.widgets import Static

from coach.tui.layout.styled_text import Inks
from coach.tui.screens.base_screen import BenchScreen

_CLOSING: Final = ("escape", "q", "backspace", "left", "c", "l", "d", "h", "question_mark", "f1")
_MARGIN: Final = 3  # with the scroll bar
Lines: TypeAlias = Callable[[int], Sequence[Text]]
"""Makes the lines of a page for so many columns."""


class PageScreen(BenchScreen[bool]):
    """Shows lines made for its width. Its result is whether enter answered yes."""

    def __init__(
        self,
        inks: Inks,
        lines: Lines,
        keys: Text,
        *,
        enter: bool = False,
    ) -> None:
        """Take the page.

        Args:
            inks: What it is written with.
            lines: Makes its lines for a width.
            keys: What stands at its foot.
            enter: Whether enter and space answer yes, and do not just close it.
        """
        super().__init__()
        self._inks = inks
        self._keys = keys
        self._lines = lines
        self._enter = enter
        self._text = Static(id="page", markup=False)

    def compose(self) -> ComposeResult:
        """Yield the page."""
        with VerticalScroll():
            yield self._text
        yield Static(self._keys, id="keys", markup=False)

    def on_mount(self) -> None:
        """Leave out the scroll bar where its signs cannot be shown."""
        if self._inks.plain:
            self.query_one(VerticalScroll).styles.scrollbar_size_vertical = 0

    def on_resize(self, event: events.Resize) -> None:
        """Make the lines anew for the width."""
        self._set(event.size.width)

    def show(self) -> None:
        """Make the lines anew, as when what they tell has changed."""
        self._set(self.size.width)

    def _set(self, columns: int) -> None:
        width = max(1, columns - _MARGIN)
        lines = [self._inks.shown(line) for line in self._lines(width)]
        text = Text("\n", no_wrap=True, overflow="crop", end="").join(lines)
        self._text.update(text)

    def on_key(self, event: events.Key) -> None:
        """Close on the keys that open a page, and on those that go back."""
        answer = self._enter and event.key in ("enter", "space")
        if answer or event.key in _CLOSING or (event.key in ("enter", "space") and not self._enter):
            event.stop()
            self.dismiss(answer)
