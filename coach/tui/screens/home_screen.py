"""The first screen: orders and pieces under way, projects, and details of the marked one."""

from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import replace
from functools import partial
from typing import ClassVar, Final

from rich.text import Text
from textual import events
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Horizontal
from textual.message import Message
from textual.timer import Timer
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from coach.piece import Summary
from coach.session.ports import ProjectOffer
from coach.session.view_model import OrderLine
from coach.tui import screens
from coach.tui.layout.styled_text import Inks
from coach.tui.messages import (
    AskedOfOrder,
    AskedOfPicture,
    AskedOfPiece,
    ChosenPiece,
    ChosenProject,
)
from coach.tui.pages.home_entries import HomeEntry, HomeListing, Unfold
from coach.tui.screens.base_screen import BenchScreen, keyed
from coach.tui.widgets.keys_line import Hint, KeysLine
from coach.tui.widgets.marked_list import SIGN, MarkedList, OneLine

_MARGIN: Final = 4
_TWO_COLUMNS: Final = 80  # columns from which the marked one is described beside the list
_SHARE: Final = 0.5  # of the columns that the list has then
_MOST_TYPED: Final = 30
_ON_LETTERS: Final = ("ask", "desk", "find", "help", "leave", "picture")
"""What is done by keys that are only typed once something is."""
_LATER: Final = ("desk", "picture")
"""What gives way first where there is little room."""
_LOOKED_AT_S: Final = 0.1  # how long a mark rests before what it is on is worked out

Describe = Callable[[Message, tuple[int, int]], Sequence[Text]]
"""Tells of what a message would open, in so many columns and lines."""


class ListScreen(BenchScreen[None]):
    """Lists pieces and projects, filtered as one types; posts the chosen one."""

    BINDINGS: ClassVar[list[BindingType]] = [
        keyed("enter", "open", "open", "Take the piece to the bench, or see the project's plan."),
        keyed("slash,ctrl+p", "ask", "more", "Rename, copy, put away or delete a piece."),
        keyed("D", "desk", "desk", "See orders, stock and a quote on the order desk."),
        keyed("P", "picture", "picture", "See the whole piece, and try it in other colours."),
        keyed("escape", "all", "all of them", "Show the whole list again."),
        keyed("question_mark,f1", "help", "help", "See what the keys do."),
        keyed("q", "leave", "leave", "Leave. Everything is saved."),
    ]

    def __init__(self, inks: Inks, describe: Describe | None = None) -> None:
        """Set the styles, and what describes the marked entry."""
        super().__init__()
        self._inks = inks
        self._describe = describe
        self._listed = HomeListing()
        self._opens: dict[str, Message] = {}  # by the names of the entries
        self._typed = self._told = ""
        self._unfolded = False
        self._resting: Timer | None = None

    def compose(self) -> ComposeResult:
        """Yield the message above, the list with its details, and the keys below."""
        yield Static(id="told", markup=False)
        with Horizontal():
            yield MarkedList()
            yield Static(id="detail", markup=False)
        yield KeysLine(self.hints)

    def on_resize(self) -> None:
        """Write the entries anew for the width."""
        self.fill()

    def wear(self, inks: Inks) -> None:
        """Show the list in other colours."""
        self._inks = inks
        self.fill()

    def offer(
        self,
        pieces: Sequence[Summary],
        projects: Sequence[ProjectOffer],
        told: str = "",
        away: Collection[int] = (),
    ) -> None:
        """Show what there is to work on.

        Args:
            pieces: The pieces, the one last worked on first.
            projects: The projects that can be begun.
            told: The message above them.
            away: The ids of pieces that were put away.
        """
        self._listed = replace(self._listed, pieces=pieces, projects=projects, away=away)
        self._typed, self._told = "", told
        self.fill(first=True)

    def order(self, orders: Mapping[int, OrderLine], days: Mapping[OrderLine, str]) -> None:
        """Set the orders under way, by the piece to go on with, and their days so far."""
        self._listed = replace(self._listed, orders=orders, days=days)

    def on_key(self, event: events.Key) -> None:
        """Filter the list by what is typed; bindings and the list handle the rest."""
        char = event.character or ""
        bound = ("q", "D", "P", "slash", "space", "question_mark")
        if event.key == "backspace":
            self._find(self._typed[:-1])
        elif len(char) == 1 and char.isprintable() and (self._typed or event.key not in bound):
            self._find((self._typed + char)[:_MOST_TYPED])
        else:
            return
        event.stop()
        event.prevent_default()

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Return whether an action does something: while one types, letters only filter."""
        del parameters
        typed = bool(self._typed)
        return typed if action == "all" else not (typed and action in _ON_LETTERS)

    def hints(self) -> Sequence[Hint]:
        """Return what the keys do, and that letters filter the list."""
        known = [replace(one, rank=int(one.action in _LATER)) for one in super().hints()]
        find = Hint("a-z", "find", "find", "Narrow the list: just type.", rank=1)
        return known if self._typed else [*known[:3], find, *known[3:]]

    def action_open(self) -> None:
        """Open the marked entry."""
        self.query_one(MarkedList).action_select()

    def action_help(self) -> None:
        """Open the page of the keys."""
        self.app.push_screen(screens.hints_page(self._inks, self.hints()))

    def action_find(self) -> None:
        """Explain the filter."""
        self._told = "Type a word of a name: the list narrows to it."
        self._say()

    def action_all(self) -> None:
        """Show the whole list again."""
        self._find("")

    def action_ask(self) -> None:
        """Ask what to do with the marked piece."""
        marked = self._marked()
        self.post_message(AskedOfPiece(marked.piece_id if isinstance(marked, ChosenPiece) else 0))

    def action_desk(self) -> None:
        """Open the order desk on the marked project."""
        marked = self._marked()
        project = marked.key if isinstance(marked, ChosenProject) else ""
        self.post_message(AskedOfOrder("desk", project))

    def action_picture(self) -> None:
        """Show the picture of the marked entry."""
        marked = self._marked()
        if marked:
            self.post_message(AskedOfPicture(marked))

    def action_leave(self) -> None:
        """Leave the coach."""
        self.app.action_leave()  # type: ignore[attr-defined]  # of the bench's app

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Post the chosen entry; unfold the rest here."""
        event.stop()
        chosen = self._opens[event.option_id or ""]
        if isinstance(chosen, Unfold):
            self._unfolded = not self._unfolded
            self.fill()
        else:
            self.post_message(chosen)

    def on_option_list_option_highlighted(self, event: OptionList.OptionHighlighted) -> None:
        """Describe the entry once the mark rests, since that may take long."""
        event.stop()
        if self._resting:
            self._resting.stop()
        self._resting = self.set_timer(_LOOKED_AT_S, self.tell)

    def _marked(self) -> Message | None:
        at = self.query_one(OptionList).highlighted_option
        return self._opens[at.id] if at and at.id else None

    def _find(self, typed: str) -> None:
        if typed != self._typed:
            self._typed, self._told = typed, ""
            self.fill()

    def tell(self) -> None:
        """Describe the marked entry, if there is room beside the list."""
        marked, pane = self._marked(), self.query_one("#detail", Static)
        if not (self._describe and pane.display and self.is_current):
            return
        if marked is None:
            pane.update("")
            return
        lines = [self._inks.shown(line) for line in self._describe(marked, pane.content_size)]
        pane.update(Text("\n", no_wrap=True, overflow="crop", end="").join(lines))

    def fill(self, *, first: bool = False) -> None:
        """Fill the list; the mark stays where it was, unless `first`."""
        columns, entries = self.size.width, self.query_one(MarkedList)
        beside = columns >= _TWO_COLUMNS and self._describe is not None
        self.query_one("#detail", Static).display = beside
        width = max(8, int(columns * _SHARE if beside else columns) - _MARGIN - len(SIGN))
        marked = entries.highlighted_option
        at = marked.id if marked and not first and not self._typed else None
        entries.set_options(self._options(width))
        top = next((i for i, o in enumerate(entries.options) if not o.disabled), None)
        entries.highlighted = entries.get_option_index(at) if at in self._opens else top
        self._say()
        if top is None:
            self.tell()  # no mark will come to tell of
        self.refresh_bindings()

    def _say(self) -> None:
        """Show what is typed, or the message above the list."""
        ink = self._inks.style("warning" if self._told else "figure", bold=True)
        said = f"Find: {self._typed}" if self._typed else self._told or self._listed.greeting
        if self._typed and not self._opens:
            said += ". Nothing is called that."
        self.query_one("#told", Static).update(self._inks.shown(Text(said, ink)))

    def _options(self, width: int) -> list[Option]:
        self._opens = {}
        entries = self._listed.entries(self._typed, width, self._inks, unfolded=self._unfolded)
        return [self._option(entry) for entry in entries]

    def _option(self, entry: HomeEntry) -> Option:
        if entry.opens is None:
            return Option(OneLine(entry.write), disabled=True)
        self._opens[entry.name] = entry.opens
        return Option(OneLine(partial(self._written, entry)), id=entry.name)

    def _written(self, entry: HomeEntry) -> Text:
        """Return the line of an entry, with room for the mark before it."""
        return self._inks.shown(Text(" " * len(SIGN)) + entry.line)
