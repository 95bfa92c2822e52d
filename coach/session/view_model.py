"""The views that screens show, as plain values: of a piece at one count, of the order desk."""

from collections.abc import Container, Sequence
from dataclasses import dataclass
from typing import Final, Protocol

from coach.plan.cord.cord_left import StrandLeft
from coach.plan.plan_model import Plan
from coach.plan.wording.strand_names import strand_words
from coach.plan.wording.who_ties import Who
from coach.quantities import show_length
from coach.settings.settings import Units
from coach.text import capital

CORDS: Final = 3
"""The number of strands whose cord left a screen shows while there is work to do."""

CORDS_OVER: Final = 6
"""The same when all is made."""

_ALL: Final = 99  # in 100: that a strand is out of cord is told otherwise


@dataclass(frozen=True, slots=True)
class View:
    """All that a screen shows of a piece; texts from files are not cleaned for a terminal yet."""

    title: str
    done: int
    total: int
    number: int  # the tie about to be made, within its step, from 1
    of: int
    sentence: str
    where: tuple[str, ...]
    next: str
    notes: tuple[str, ...]
    message: str
    time: tuple[str, ...]
    cords: tuple[StrandLeft, ...]  # those at hand, then the worst of those that hang
    paused: bool
    order: tuple[int, ...] = ()  # the strands from the left
    short: tuple[StrandLeft, ...] = ()  # all that will not reach
    who: tuple[Who, ...] = ()  # who does what, to be read from a metre away
    sign: str = ""  # one word where there is nothing to count
    offer: str = ""  # what may be done first
    noted: tuple[str, ...] = ()  # the maker's own notes
    passing: tuple[int, int] = (0, 0)  # the pass that comes next, of how many, where they count
    units: Units = "cm"
    any_key: bool = False
    unspoken: str = ""  # what keeps the coach from speaking, on a line of its own

    @property
    def finished(self) -> bool:
        """Whether all counts are made."""
        return self.done >= self.total


def warning(plan: Plan, view: View, told: Container[int] = ()) -> str:
    """Return the warning about the worst strand that will not reach; "" where all do.

    Args:
        plan: The plan that the piece follows.
        view: The view of the piece.
        told: Strands to leave out, because they were warned about before.
    """
    short = next((left for left in view.short if left.strand not in told), None)
    if short is None:
        return ""
    name = capital(strand_words(plan, short.strand, view.order))
    if plan.strands[short.strand].origin == "added" and short.strand not in view.order:
        name += " still to be hung"
    if short.runs_out_at is None:
        return f"{name} will end with less than its tail."
    if short.runs_out_at < view.done:
        return f"{name} is already into its tail."
    return f"{name} will not reach: its cord is used up at tie {short.runs_out_at + 1}."


def outlook_words(left: StrandLeft, units: Units = "cm") -> str:
    """Return the meaning of a strand's range: the tail to leave, and the risk of falling short."""
    tail = show_length(left.tail_mm, units)
    chance = round(left.falls_short * 100)
    if not chance:
        return f"tail {tail}; under 1 in 100 short"
    return f"tail {tail}; {min(chance, _ALL)} in 100 short"


@dataclass(frozen=True, slots=True)
class OrderLine:
    """An order under way, for the list.

    `piece_id` is the piece to go on with; `finished` of `copies` sound pieces are finished, and
    `spoilt` ones are left out of both.
    """

    name: str
    title: str
    piece_id: int
    finished: int
    copies: int
    spoilt: int
    worked_s: float


@dataclass(frozen=True, slots=True)
class QuoteSelection:
    """What the desk quotes: a project, and how many of it in each of its colourways.

    `copies` has the project's own colours first; `at` is the colourway that keys change.
    """

    project: str
    copies: tuple[int, ...] = (1,)
    at: int = 0


@dataclass(frozen=True, slots=True)
class DeskPage:
    """The text of the desk in lines; `short` is the quote in a few of them."""

    title: str
    short: tuple[str, ...] = ()
    quote: tuple[str, ...] = ()
    orders: tuple[str, ...] = ()
    stock: tuple[str, ...] = ()


class OrderDesk(Protocol):
    """Orders, stock and quotes. Its methods raise CannotOpen or PieceError.

    Those that change an order return a sentence that says so.
    """

    def projects(self) -> Sequence[str]:
        """Return the projects that can be quoted."""

    def ways(self, project: str) -> Sequence[str]:
        """Return the colourways of a project, without its own colours."""

    def page(self, chosen: QuoteSelection) -> DeskPage:
        """Return the desk with the quote of a choice."""

    def begin(self, chosen: QuoteSelection, name: str) -> str:
        """Begin an order as it is quoted."""

    def orders(self) -> Sequence[OrderLine]:
        """Return the orders under way, the last begun first."""

    def day(self, name: str) -> str:
        """Return the day on which an order is ready, "" if the hours a week are unknown."""

    def turn(self, name: str) -> str:
        """Change to the other way of working an order."""

    def spoil(self, name: str, piece: str) -> str:
        """Mark a piece of an order as spoilt and begin another in its place."""

    def split(self, name: str, into: str) -> str:
        """Move the finished pieces into an order of their own."""

    def end(self, name: str, earned: str) -> str:
        """End an order that is done."""
