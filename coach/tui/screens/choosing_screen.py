"""The base of screens with rows to choose from above an input line."""

from collections.abc import Iterable
from typing import ClassVar, Final, TypeVar

from rich.text import Text
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.widgets import Input, OptionList, Static
from textual.widgets.option_list import Option

from coach.tui.layout.styled_text import Inks
from coach.tui.screens.base_screen import BenchScreen, keyed
from coach.tui.widgets.keys_line import KeysLine
from coach.tui.widgets.marked_list import SIGN, MarkedList
from coach.tui.widgets.text_line import TextLine

T = TypeVar("T")
_MARGINS: Final = 2
_SCROLL_BAR: Final = 1


class ChoosingScreen(BenchScreen[T]):
    """Marks a row by up and down or a tap, and takes what is typed with enter.

    The line always has the focus; the rows take none, so that letters always go to the line.
    """

    AUTO_FOCUS = "TextLine"
    OF_A_PLAN = True
    BINDINGS: ClassVar[list[BindingType]] = [
        keyed("enter", "take", "keep", "Take what is written."),
        keyed("up", "mark(-1)", "another", "Mark another row.", sign="up down"),
        keyed("down", "mark(1)"),
        keyed("escape", "back", "back", "Close this, and change nothing."),
    ]

    def __init__(self, inks: Inks, title: str, most: int) -> None:
        """Set what the screen says above its rows.

        Args:
            inks: The styles.
            title: The first line.
            most: The greatest length of what is typed.
        """
        super().__init__()
        self.inks = inks
        self._title = title
        self._most = most
        self._columns = 0
        self._said = ""
        self._told: int | None = None  # the row that was marked last

    def rows(self, width: int) -> Iterable[Text]:
        """Return the rows for a width in columns."""
        raise NotImplementedError

    def marked(self, number: int) -> None:
        """React to another row being marked."""

    def chosen(self) -> None:
        """React to a tap on the marked row; by default it is only marked."""

    def compose(self) -> ComposeResult:
        """Yield the title, the rows, their message, the line, and the keys."""
        title = Text(self._title, no_wrap=True, overflow="ellipsis")
        yield Static(self.inks.shown(title), id="title", markup=False)
        rows = MarkedList()
        rows.can_focus = False
        yield rows
        yield Static(id="said", markup=False)
        yield TextLine(self._most)
        yield KeysLine(self.hints)

    def on_mount(self) -> None:
        """Leave out the scroll bar where its characters cannot be shown."""
        if self.inks.plain:
            self.query_one(MarkedList).styles.scrollbar_size_vertical = 0

    def on_resize(self) -> None:
        """Write the rows anew for the width."""
        if self.size.width != self._columns:
            self._columns = self.size.width
            self.fill(self.at)

    def wear(self, inks: Inks) -> None:
        """Write the rows anew in other colours."""
        self.inks = inks
        self.fill(self.at)

    @property
    def at(self) -> int:
        """The number of the marked row."""
        return self.query_one(MarkedList).highlighted or 0

    @property
    def line(self) -> Input:
        """The input line."""
        return self.query_one(Input)

    def fill(self, at: int = 0) -> None:
        """Write all rows, and mark one."""
        listed = self.query_one(MarkedList)
        width = max(1, self.size.width - _MARGINS - _SCROLL_BAR - len(SIGN))
        room = Text(" " * len(SIGN))
        listed.clear_options()
        listed.add_options([Option(self.inks.shown(room + row)) for row in self.rows(width)])
        listed.highlighted = at if listed.option_count else None

    def say(self, said: str) -> None:
        """Show a message between rows and line; the same one is not laid out again."""
        if said != self._said:
            self._said = said
            self.query_one("#said", Static).update(self.inks.shown(Text(said)))

    def action_mark(self, step: int) -> None:
        """Mark the row before or after, wrapping round."""
        listed = self.query_one(MarkedList)
        if listed.option_count:
            listed.highlighted = (self.at + step) % listed.option_count

    async def action_take(self) -> None:
        """Take what is typed."""
        await self.line.action_submit()

    def on_text_line_shortened(self) -> None:
        """Say that not all that was pasted is on the line."""
        self.say(f"The line holds {self._most} letters; the rest of what was pasted is left out.")

    def on_option_list_option_highlighted(self, event: OptionList.OptionHighlighted) -> None:
        """Follow the mark."""
        event.stop()
        if event.option_index != self._told:  # it is not only written anew
            self._told = event.option_index
            self.marked(event.option_index)

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Follow a tap."""
        event.stop()
        self.chosen()
