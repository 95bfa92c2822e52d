"""The entries of the first screen, each with the message that opens it."""

from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass, field
from functools import partial

from rich.text import Text
from textual.message import Message

from coach.piece import Summary
from coach.session.ports import ProjectOffer
from coach.session.view_model import OrderLine
from coach.text import counted
from coach.tui.layout.styled_text import Inks
from coach.tui.messages import ChosenPiece, ChosenProject, StartsFreehand
from coach.tui.pages import list_lines as lines


@dataclass(frozen=True, slots=True)
class HomeEntry:
    """A line of the list, and the message that opens it; a heading opens nothing.

    Attributes:
        write: Write the line. Of some hundred entries a few are visible, so only theirs are
            written.
        opens: The message that opens it.
        name: Its key among the entries, independent of what is typed.
    """

    write: Callable[[], Text]
    opens: Message | None = None
    name: str = ""

    @property
    def line(self) -> Text:
        """The line as it is written."""
        return self.write()


class Unfold(Message):
    """Finished and put-away pieces are to be shown, or hidden again."""


@dataclass(frozen=True, slots=True)
class HomeListing:
    """Everything that can be listed.

    Attributes:
        pieces: The pieces, the one last worked on first.
        away: The ids of those that were put away.
        projects: The projects that can be begun.
        orders: The orders under way, by the piece to go on with.
        days: The day on which each order is ready, as far as it is worked out.
    """

    pieces: Sequence[Summary] = ()
    away: Collection[int] = ()
    projects: Sequence[ProjectOffer] = ()
    orders: Mapping[int, OrderLine] = field(default_factory=dict)
    days: Mapping[OrderLine, str] = field(default_factory=dict)

    def entries(self, typed: str, width: int, inks: Inks, *, unfolded: bool) -> list[HomeEntry]:
        """Return orders, pieces under way, projects, then the other pieces folded.

        Args:
            typed: The filter.
            width: The columns of a line.
            inks: The styles.
            unfolded: Whether finished and put-away pieces are shown.
        """
        done, going = self._pieces(typed)
        shown = [_piece(one, width, inks) for one in done if typed or unfolded]
        told = "hide them" if unfolded else f"show {counted(len(done), 'piece')}"
        told_line = Text(told, inks.style("text"))
        fold = [HomeEntry(told_line.copy, Unfold(), "fold")] if done and not typed else []
        return [
            *_section("Orders", self._orders(typed, width, inks), inks),
            *_section("On the bench", [_piece(one, width, inks) for one in going], inks),
            *_section("To begin", self._to_begin(typed, width, inks), inks),
            *_section("Finished or put away", [*fold, *shown], inks),
        ]

    @property
    def greeting(self) -> str:
        """The line above the list if there is no other message."""
        if self.pieces or not self.projects:
            return "Welcome back." if self.pieces else ""
        return "Welcome. Enter opens the first one."

    def _pieces(self, typed: str) -> tuple[list[Summary], list[Summary]]:
        """Return the pieces that are finished or put away, and those under way."""
        found = [
            piece for piece in self.pieces
            if piece.id not in self.orders and lines.matches(typed, piece.name, piece.title)
        ]  # fmt: skip
        done = [piece.finished or piece.id in self.away for piece in found]
        both = list(zip(found, done, strict=True))
        return [one for one, over in both if over], [one for one, over in both if not over]

    def _orders(self, typed: str, width: int, inks: Inks) -> list[HomeEntry]:
        return [
            HomeEntry(partial(lines.order_row, one, self.days.get(one, ""), width, inks),
                  ChosenPiece(one.piece_id), f"piece {one.piece_id}")
            for one in self.orders.values()
            if lines.matches(typed, one.name, one.title)
        ]  # fmt: skip

    def _to_begin(self, typed: str, width: int, inks: Inks) -> list[HomeEntry]:
        """Return the projects, the easiest marked for a first evening."""
        offers = lines.easiest_first(self.projects)
        easiest = None if any(piece.finished for piece in self.pieces) else offers[:1]
        projects = [
            HomeEntry(partial(lines.project_row, o, width, inks, first=[o] == easiest),
                  ChosenProject(o.key), f"project {o.key}")
            for o in offers
            if lines.matches(typed, o.title, o.about, o.skill)
        ]  # fmt: skip
        free = lines.freehand_row(typed, width, inks)
        return [*projects, *(HomeEntry(line.copy, StartsFreehand(), "freehand") for line in free)]


def _section(heading: str, entries: Sequence[HomeEntry], inks: Inks) -> list[HomeEntry]:
    head = HomeEntry(Text(heading, inks.style("quiet")).copy)
    return [head, *entries, HomeEntry(Text)] if entries else []


def _piece(piece: Summary, width: int, inks: Inks) -> HomeEntry:
    line = partial(lines.piece_row, piece, width, inks)
    return HomeEntry(line, ChosenPiece(piece.id), f"piece {piece.id}")
