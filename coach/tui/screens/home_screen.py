"""The first screen: the list of pieces under way and of projects to begin."""

from collections.abc import Sequence

from rich.segment import Segment
from rich.style import Style
from rich.text import Text
from textual.app import ComposeResult
from textual.binding import Binding
from textual.message import Message
from textual.strip import Strip
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from coach.piece import Summary
from coach.session.ports import Offer, OrderLine
from coach.session.time_format import local, when
from coach.tui.layout.styled_text import Inks, fitted
from coach.tui.messages import ChosenPiece, ChosenProject
from coach.tui.pages.plan_pages import foot
from coach.tui.screens.base_screen import BenchScreen

_MARGIN = 4
_ROOMY = 60
_SIGN = "> "


class Entries(OptionList):
    """A list that marks the entry which enter would open.

    The sign is no part of the entries but set as a line is painted: to change an entry, the
    library measures all of them anew, which a long list would feel with every key.
    """

    def __init__(self, ink: Style) -> None:
        """Take the style of the mark."""
        super().__init__(markup=False)
        self._sign = Strip([Segment(_SIGN, ink)])

    def render_line(self, y: int) -> Strip:
        """Return a line, with the mark in its first columns if its entry is the chosen one."""
        line = super().render_line(y)
        number = next((s.style.meta.get("option") for s in line if s.style), None)
        if number is None or number != self.highlighted:
            return line
        return Strip.join([self._sign.apply_meta({"option": number}), line.crop(len(_SIGN))])


class ListScreen(BenchScreen[None]):
    """Lists pieces and projects; posts which one was chosen."""

    BINDINGS = [  # noqa: RUF012 - the library's own form
        Binding("q", "app.leave", "leave"),
    ]

    def __init__(self, inks: Inks) -> None:
        super().__init__()
        self._inks = inks
        self._pieces: Sequence[Summary] = ()
        self._projects: Sequence[Offer] = ()
        self._orders: Sequence[OrderLine] = ()
        self._chosen: list[Message] = []

    def compose(self) -> ComposeResult:
        """Yield the message above, the list and the keys below."""
        yield Static(id="told", markup=False)
        yield Entries(self._inks.style("figure", bold=True))
        yield Static(id="keys", markup=False)

    def on_resize(self) -> None:
        """Write the entries anew for the width."""
        self._fill()

    def offer(
        self,
        pieces: Sequence[Summary],
        projects: Sequence[Offer],
        told: str = "",
        orders: Sequence[OrderLine] = (),
    ) -> None:
        """Show these pieces, orders and projects, and above them what went wrong.

        The pieces of an order are one line.
        """
        ordered = {number for order in orders for number in order.pieces}
        self._pieces = [piece for piece in pieces if piece.id not in ordered]
        self._projects, self._orders = projects, orders
        self.query_one("#told", Static).update(
            self._inks.shown(Text(told, self._inks.style("warning", bold=True)))
        )
        self._fill()

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Post what was chosen."""
        event.stop()
        self.post_message(self._chosen[int(event.option_id or 0)])

    def _fill(self) -> None:
        width = max(8, self.size.width - _MARGIN - len(_SIGN))
        entries = self.query_one(OptionList)
        at = entries.highlighted
        entries.clear_options()
        entries.add_options(self._options(width))
        first = next((i for i, o in enumerate(entries.options) if not o.disabled), None)
        entries.highlighted = at if at is not None and at < entries.option_count else first
        keys = foot(self._inks, ("enter", "open"), ("q", "leave"))
        self.query_one("#keys", Static).update(keys)

    def _options(self, width: int) -> list[Option]:
        self._chosen = []
        options = []
        if self._orders:
            options.append(self._heading("Orders"))
            options += [
                self._option(_line(o.name, o.told, width, self._inks), _order(o.name))
                for o in self._orders
            ]
            options.append(self._heading(""))
        if self._pieces:
            options.append(self._heading("On the bench"))
            options += [
                self._option(_piece(p, width, self._inks), _opening(p.id)) for p in self._pieces
            ]
            options.append(self._heading(""))
        options.append(self._heading("To begin"))
        options += [
            self._option(_project(p, width, self._inks), ChosenProject(p.key))
            for p in self._projects
        ]
        return options

    def _heading(self, text: str) -> Option:
        return Option(Text(text, self._inks.style("quiet")), disabled=True)

    def _option(self, text: Text, chosen: Message) -> Option:
        self._chosen.append(chosen)
        room = Text(" " * len(_SIGN))
        return Option(self._inks.shown(room + text), id=str(len(self._chosen) - 1))


def _opening(piece_id: int) -> ChosenPiece:
    return ChosenPiece(lambda shelf: shelf.open(piece_id) if shelf else None)


def _order(name: str) -> ChosenPiece:
    return ChosenPiece(lambda shelf: shelf.open_order(name) if shelf else None)


def _piece(piece: Summary, width: int, inks: Inks) -> Text:
    """Return a piece on one line: its name, how far it is, when it was last worked on."""
    far = "finished" if piece.finished else f"{piece.done} of {piece.total}"
    moment = local(piece.touched_ms)
    told = f"{far}, {when(moment)}" if width >= _ROOMY else far
    return _line(piece.name, told, width, inks)


def _project(project: Offer, width: int, inks: Inks) -> Text:
    return _line(project.title, project.about if width >= _ROOMY else project.skill, width, inks)


def _line(name: str, told: str, width: int, inks: Inks) -> Text:
    room = max(8, min(30, width // 2 if told else width))
    first = Text(f"{fitted(name, room):<{room}}  ", inks.style("text", bold=True), no_wrap=True)
    return first + Text(fitted(told, width - room - 2), inks.style("quiet"))
