"""The first screen: orders and pieces under way, projects to begin, and more of the marked one."""

from collections.abc import Callable, Collection, Mapping, Sequence
from typing import Final, NamedTuple

from rich.text import Text
from textual import events
from textual.app import ComposeResult
from textual.containers import Horizontal
from textual.message import Message
from textual.timer import Timer
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from coach.piece import Summary
from coach.session.ports import Offer
from coach.session.view_model import OrderLine
from coach.tui.layout.marked_list import SIGN, Entries
from coach.tui.layout.styled_text import Inks
from coach.tui.messages import (
    AskedOfOrder,
    AskedOfPiece,
    ChosenPiece,
    ChosenProject,
    StartsFreehand,
)
from coach.tui.pages import list_lines as lines
from coach.tui.pages.plan_pages import foot
from coach.tui.screens.base_screen import BenchScreen

_MARGIN: Final = 4
_TWO_COLUMNS: Final = 80  # columns from which the marked one is described beside the list
_SHARE: Final = 0.5  # of the columns that the list has then
_MOST_TYPED: Final = 30
_LOOKED_AT_S: Final = 0.1  # how long a mark rests before what it is on is worked out

Describe = Callable[[Message, int], Sequence[Text]]
"""Tells of what a message would open, in lines of so many columns."""


class _Entry(NamedTuple):
    line: Text
    opens: Message | None = None


class Unfold(Message):
    """The pieces that are finished or put away are to be shown, or not any more."""


class ListScreen(BenchScreen[None]):
    """Lists pieces and projects, fewer as one types; posts which one was chosen."""

    def __init__(self, inks: Inks, describe: Describe | None = None) -> None:
        """Take what is written with, and what tells of the entry that is marked."""
        super().__init__()
        self._inks = inks
        self._describe = describe
        self._pieces: Sequence[Summary] = ()
        self._away: Collection[int] = ()
        self._projects: Sequence[Offer] = ()
        self._orders: Mapping[int, OrderLine] = {}
        self._days: Mapping[OrderLine, str] = {}
        self._chosen: list[Message] = []
        self._typed = self._told = ""
        self._unfolded = False
        self._resting: Timer | None = None

    def compose(self) -> ComposeResult:
        """Yield the message above, the list with what is told of one, and the keys below."""
        yield Static(id="told", markup=False)
        with Horizontal():
            yield Entries(self._inks.style("figure", bold=True))
            yield Static(id="detail", markup=False)
        yield Static(id="keys", markup=False)

    def on_resize(self) -> None:
        """Write the entries anew for the width."""
        self.fill()

    def wear(self, inks: Inks) -> None:
        """Show the list in other colours."""
        self._inks = inks
        self.query_one(Entries).wear(inks.style("figure", bold=True))
        self.fill()

    def offer(
        self,
        pieces: Sequence[Summary],
        projects: Sequence[Offer],
        told: str = "",
        away: Collection[int] = (),
    ) -> None:
        """Show what there is to work on.

        Args:
            pieces: The pieces, the one last worked on first.
            projects: The projects that can be begun.
            told: What is said above them.
            away: The ids of pieces that were put away.
        """
        self._pieces, self._projects, self._away = pieces, projects, away
        self._typed, self._told = "", told
        self.fill(first=True)

    def order(self, orders: Mapping[int, OrderLine], days: Mapping[OrderLine, str]) -> None:
        """Take the orders under way, by the piece to go on with, and the day of each so far."""
        self._orders, self._days = orders, days

    def on_key(self, event: events.Key) -> None:
        """Narrow the list by what is typed; all else is the list's own, or the library's."""
        key, char = event.key, event.character or ""
        if key == "escape":
            self._find("")
        elif key == "backspace":
            self._find(self._typed[:-1])
        elif key in ("slash", "ctrl+p") and not self._typed:
            self._ask()
        elif char == "D" and not self._typed:
            marked = self._marked()
            project = marked.key if isinstance(marked, ChosenProject) else ""
            self.post_message(AskedOfOrder("desk", project))
        elif key == "q" and not self._typed:
            self.app.action_leave()  # type: ignore[attr-defined]  # of the bench's app
        elif len(char) == 1 and char.isprintable() and (self._typed or char != " "):
            self._find((self._typed + char)[:_MOST_TYPED])
        else:
            return
        event.stop()
        event.prevent_default()

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Post what was chosen; unfold the rest here."""
        event.stop()
        chosen = self._chosen[int(event.option_id or 0)]
        if isinstance(chosen, Unfold):
            self._unfolded = not self._unfolded
            self.fill()
        else:
            self.post_message(chosen)

    def on_option_list_option_highlighted(self, event: OptionList.OptionHighlighted) -> None:
        """Tell of the entry once the mark rests on it; what it tells may take long to work out."""
        event.stop()
        if self._resting:
            self._resting.stop()
        self._resting = self.set_timer(_LOOKED_AT_S, self._detail)

    def _marked(self) -> Message | None:
        at = self.query_one(OptionList).highlighted_option
        return self._chosen[int(at.id)] if at and at.id else None

    def _ask(self) -> None:
        """Ask what is to become of the marked piece."""
        marked = self._marked()
        self.post_message(AskedOfPiece(marked.piece_id if isinstance(marked, ChosenPiece) else 0))

    def _find(self, typed: str) -> None:
        if typed != self._typed:
            self._typed, self._told = typed, ""
            self.fill()

    def _detail(self) -> None:
        """Describe the marked entry, where there is room beside the list."""
        marked, pane = self._marked(), self.query_one("#detail", Static)
        if not (marked and self._describe and pane.display and self.is_current):
            return
        lines = [self._inks.shown(line) for line in self._describe(marked, pane.size.width)]
        pane.update(Text("\n", no_wrap=True, overflow="crop", end="").join(lines))

    def fill(self, *, first: bool = False) -> None:
        """List what there is; the mark stays on what it was on, unless it is to be the first."""
        columns, entries = self.size.width, self.query_one(Entries)
        beside = columns >= _TWO_COLUMNS and self._describe is not None
        self.query_one("#detail", Static).display = beside
        width = max(8, int(columns * _SHARE if beside else columns) - _MARGIN - len(SIGN))
        self._say()
        marked = entries.highlighted_option
        at = marked.prompt if marked and not first and not self._typed else None
        entries.clear_options()
        entries.add_options(self._options(width))
        prompts = [option.prompt for option in entries.options]
        top = next((i for i, o in enumerate(entries.options) if not o.disabled), None)
        entries.highlighted = prompts.index(at) if at in prompts else top
        self.query_one("#keys", Static).update(self._keys())

    def _say(self) -> None:
        """Show what is typed, or what is said above the list."""
        ink = self._inks.style("figure" if self._typed else "warning", bold=True)
        said = f"Find: {self._typed}" if self._typed else self._told
        self.query_one("#told", Static).update(self._inks.shown(Text(said, ink)))

    def _keys(self) -> Text:
        find = [("a-z", "find")] if self.size.width > _TWO_COLUMNS // 2 else []
        keys = [("enter", "open"), ("/", "more"), ("D", "desk"), *find, ("q", "leave")]
        if self._typed:
            keys = [("enter", "open"), ("escape", "all of them")]
        return foot(self._inks, *keys)

    def _options(self, width: int) -> list[Option]:
        self._chosen = []
        return [self._option(entry) for entry in self._entries(width)]

    def _option(self, entry: _Entry) -> Option:
        if entry.opens is None:
            return Option(entry.line, disabled=True)
        self._chosen.append(entry.opens)
        room = Text(" " * len(SIGN))
        return Option(self._inks.shown(room + entry.line), id=str(len(self._chosen) - 1))

    def _entries(self, width: int) -> list[_Entry]:
        """Return what is listed: pieces under way, the others folded, then projects."""
        inks, typed, days = self._inks, self._typed, self._days
        ordered = [o for o in self._orders.values() if lines.matches(typed, o.name, o.title)]
        pieces = [
            piece for piece in self._pieces
            if piece.id not in self._orders and lines.matches(typed, piece.name, piece.title)
        ]  # fmt: skip
        done = [piece for piece in pieces if piece.finished or piece.id in self._away]
        going = [piece for piece in pieces if piece not in done]
        shown = done if typed or self._unfolded else []
        fold = [] if typed or not done else [_Entry(self._fold(len(done)), Unfold())]
        offers = lines.in_order(
            [o for o in self._projects if lines.matches(typed, o.title, o.about, o.skill)]
        )
        easiest = -1 if any(piece.finished for piece in self._pieces) else 0
        return [
            *self._section("Orders", [
                _Entry(lines.order_line(o, days.get(o, ""), width, inks), ChosenPiece(o.piece_id))
                for o in ordered
            ]),
            *self._section("On the bench", [_entry(p, width, inks) for p in going]),
            *self._section("Finished, put away", [*fold, *(_entry(p, width, inks) for p in shown)]),
            *self._section("To begin", [
                _Entry(lines.project_line(o, width, inks, first=n == easiest), ChosenProject(o.key))
                for n, o in enumerate(offers)
            ] + [_Entry(one, StartsFreehand()) for one in lines.freehand_line(typed, width, inks)]),
        ]  # fmt: skip

    def _fold(self, count: int) -> Text:
        told = "hide them" if self._unfolded else f"show all {count}"
        return Text(told, self._inks.style("text"))

    def _section(self, heading: str, entries: Sequence[_Entry]) -> list[_Entry]:
        head = _Entry(Text(heading, self._inks.style("quiet")))
        return [head, *entries, _Entry(Text())] if entries else []


def _entry(piece: Summary, width: int, inks: Inks) -> _Entry:
    return _Entry(lines.piece_line(piece, width, inks), ChosenPiece(piece.id))
