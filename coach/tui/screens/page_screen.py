"""The base of scrolling text pages, which most keys close."""

from collections.abc import Callable, Sequence
from typing import ClassVar, Final, TypeAlias, TypeVar

from rich.text import Text
from textual import events
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll
from textual.widgets import Static

from coach.tui.layout.styled_text import Inks
from coach.tui.screens.base_screen import BenchScreen, keyed
from coach.tui.widgets.keys_line import KeysLine

T = TypeVar("T")
_MARGIN: Final = 3  # with the scroll bar
_MOST_KEYS: Final = 2  # lines of keys
Lines: TypeAlias = Callable[[Inks, int], Sequence[Text]]
"""Makes the lines of a page, of what they are written with and of the columns."""


class TextScreen(BenchScreen[T]):
    """Shows lines made for its width, which scroll if there are many, and its keys."""

    def __init__(self, inks: Inks) -> None:
        """Set the styles."""
        super().__init__()
        self.inks = inks
        self._text = Static(id="page", markup=False)

    def page(self, width: int) -> Sequence[Text]:
        """Return the lines for a width in columns."""
        raise NotImplementedError

    def compose(self) -> ComposeResult:
        """Yield the page, what stands below it, and the keys."""
        with VerticalScroll():
            yield self._text
        yield from self.below()
        yield KeysLine(self.hints, _MOST_KEYS)

    def on_mount(self) -> None:
        """Leave out the scroll bar where its characters cannot be shown."""
        if self.inks.plain:
            self.query_one(VerticalScroll).styles.scrollbar_size_vertical = 0

    def on_resize(self, event: events.Resize) -> None:
        """Make the lines anew for the width."""
        self._set(event.size.width)

    def show(self) -> None:
        """Make the lines anew, as when their content has changed."""
        self._set(self.size.width)
        self.refresh_bindings()

    def wear(self, inks: Inks) -> None:
        """Make the lines anew in other colours."""
        self.inks = inks
        self.show()

    def _set(self, columns: int) -> None:
        width = max(1, columns - _MARGIN)
        lines = [self.inks.shown(line) for line in self.page(width)]
        text = Text("\n", no_wrap=True, overflow="crop", end="").join(lines)
        self._text.update(text)


class PageScreen(TextScreen[bool]):
    """A page to read and close. Its result is whether enter answered yes."""

    BINDINGS: ClassVar[list[BindingType]] = [
        keyed("escape,q,backspace,left,c,l,d,h,question_mark,f1,enter,space", "close", "back",
              "Close this page."),
    ]  # fmt: skip

    def __init__(self, inks: Inks, lines: Lines) -> None:
        """Set the styles, and the function that makes its lines."""
        super().__init__(inks)
        self._lines = lines

    def page(self, width: int) -> Sequence[Text]:
        """Return the lines for a width in columns."""
        return self._lines(self.inks, width)

    def action_close(self) -> None:
        """Close the page."""
        self.dismiss(result=False)
