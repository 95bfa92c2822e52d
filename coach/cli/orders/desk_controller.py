"""The order desk for screens: orders, stock, and a quote, in lines."""

from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import lru_cache
from typing import Final

from coach.cli.orders.batch_on_bench import first_of
from coach.cli.orders.maker_desk import MakerDesk, read_for_maker, today
from coach.cli.orders.orders_page import afterwards_words, order_summary
from coach.cli.orders.previous_order import order_told
from coach.cli.orders.price_list import price_list
from coach.cli.orders.quote_page import render_quote
from coach.cli.orders.stock_page import render_stock
from coach.cli.project_finder import NoSuchProject, shipped_projects
from coach.cli.skill_question import skill_set
from coach.desk.desk_log import read_desk
from coach.desk.order_changes import end_order, split_order, spoil_piece, work_over_all
from coach.desk.order_log import begin_order, order_now, orders_now
from coach.desk.order_material import material_of
from coach.desk.order_start import Begins, ToBegin
from coach.orders.prices import Prices
from coach.orders.quote import quote_of
from coach.orders.quote_data import quote_json
from coach.orders.quote_model import Group, Quote, day_words, money_words
from coach.piece import Clock, Store
from coach.piece.reports.forecast import Forecast
from coach.piece.service import find_named
from coach.plan.resize.size_request import Wish
from coach.quantities import show_time
from coach.session.ports import CannotOpen
from coach.session.view_model import DeskPage, OrderLine, QuoteSelection
from coach.text import one_line

_WEEK: Final = 7


class DeskController:
    """Implements `coach.session.view_model.OrderDesk` over the store."""

    def __init__(
        self,
        store: Store,
        clock: Clock,
        begins: Callable[[str], Begins],
        *,
        units: Callable[[], str],
        prices: Callable[[], tuple[Prices | None, Sequence[str]]] = price_list,
        first: str = "",
    ) -> None:
        """Set up the desk.

        Args:
            store: The store.
            clock: Tells the time of events.
            begins: Return what every piece of a project begins with.
            units: Return "cm" or "in".
            prices: Return the maker's prices and hours, if there are any, and the errors in them.
            first: The project that is quoted first, by path or shelf name.
        """
        self._store, self._clock, self._begins = store, clock, begins
        self._price_list, self._units, self._first = prices, units, first
        self._known: tuple[object, ...] = ()
        self._lines = list[str]()
        self._read = lru_cache(maxsize=32)(lambda name: read_for_maker(name, skill_set))

    @property
    def _prices(self) -> Prices | None:
        return self._price_list()[0]

    def projects(self) -> Sequence[str]:
        """Return the projects that can be quoted: the one asked for, and the shelf's."""
        names = [path.stem for path in shipped_projects()]
        return [self._first, *(n for n in names if n != self._first)] if self._first else names

    def ways(self, project: str) -> Sequence[str]:
        """Return the colourways of a project. Raises CannotOpen."""
        return list(self._made(project).plan.project.colourways)

    def page(self, chosen: QuoteSelection) -> DeskPage:
        """Return the desk with a quote. Raises CannotOpen, PieceError."""
        made, unit = self._made(chosen.project), self._units()
        quote, faults = self._quote(chosen), self._price_list()[1]
        items = list(read_desk(self._store).stock.items.values())
        return DeskPage(
            made.plan.project.title,
            tuple(_short(quote)),
            (*faults, *render_quote(quote, unit)),
            tuple(self._orders()),
            tuple(render_stock(items, unit)),
        )

    def _orders(self) -> list[str]:
        """Return the orders in lines, cached until something is written."""
        known = self._store.stamp(), today(), self._prices
        if self._known != known:
            self._known, self._lines = known, self._orders_now()
        return self._lines

    def _orders_now(self) -> list[str]:
        lines = []
        for order in orders_now(self._store):
            if order.order.is_open or order.order.earned:
                told = order_told(self._store, order, self._prices)
                lines.append(order_summary(told, aligned=False))
                if not order.order.is_open:
                    lines += [f"  {words}" for words in afterwards_words(told.afterwards)]
        return lines

    def begin(self, chosen: QuoteSelection, name: str) -> str:
        """Begin an order as it is quoted. Raises CannotOpen, PieceError."""
        if not one_line(name):
            raise CannotOpen("Name the order, as in ‘stall’.")
        made, quote = self._made(chosen.project), self._quote(chosen)
        ways = made.plan.project.colourways
        groups = [
            ToBegin(one.copies, one.colourway, replace(
                Wish(), colours=dict(ways.get(one.colourway, {}))
            ), made.plan)
            for one in quote.groups
        ]  # fmt: skip
        begun = begin_order(
            self._store, self._clock, one_line(name), groups,
            begins=self._begins(chosen.project), quote=quote_json(quote),
        )  # fmt: skip
        return f"The order ‘{begun.name}’ is begun; the list has it."

    def orders(self) -> Sequence[OrderLine]:
        """Return the orders under way, the last begun first. Raises PieceError."""
        return [
            OrderLine(
                order.order.name, order.order.title, first_of(order).id, order.finished,
                len(order.sound), len(order.spoilt), order.worked_s,
            )
            for order in orders_now(self._store)
            if order.order.is_open and order.sound
        ]  # fmt: skip

    def day(self, name: str) -> str:
        """Return the day on which an order is ready, by its name within a week.

        Raises:
            PieceError: The order cannot be read.
        """
        told = order_told(self._store, order_now(self._store, name), self._prices)
        day = told.ready.likely if told.ready else None
        if day is None:
            return ""
        near = (day - today()).days < _WEEK
        return f"{day:%A}" if near else f"{day:%a} {day.day} {day:%B}"

    def turn(self, name: str) -> str:
        """Change to the other way of working an order. Raises PieceError."""
        over_all = not order_now(self._store, name).order.over_all
        work_over_all(self._store, self._clock, name, over_all=over_all)
        return over_all_words(over_all=over_all)

    def spoil(self, name: str, piece: str) -> str:
        """Mark a piece as spoilt and begin another in its place. Raises PieceError."""
        found = find_named(self._store, piece)
        made = spoil_piece(
            self._store, self._clock, name, found, skill=skill_set(), another=True
        )  # fmt: skip
        return f"{one_line(found.name)} is given up; {one_line(made)} takes its place."

    def split(self, name: str, into: str) -> str:
        """Move the finished pieces into an order of their own. Raises PieceError."""
        done = [piece.uid for piece in order_now(self._store, name).sound if piece.finished]
        split_order(self._store, self._clock, name, one_line(into), done)
        return f"What is finished is the order ‘{one_line(into)}’ now."

    def end(self, name: str, earned: str) -> str:
        """End an order that is done. Raises PieceError."""
        used = material_of(self._store, order_now(self._store, name), self._prices)
        end_order(self._store, self._clock, name, earned=earned, material=used)
        told = order_told(self._store, order_now(self._store, name), self._prices)
        return " ".join((f"{one_line(name)} is done.", *afterwards_words(told.afterwards)))

    def _made(self, project: str) -> MakerDesk:
        try:
            made = self._read(project)
        except NoSuchProject as error:
            raise CannotOpen(str(error)) from error
        if made is None:
            raise CannotOpen(f"{one_line(project)} has problems; `coach check` tells them.")
        return made

    def _quote(self, chosen: QuoteSelection) -> Quote:
        made = self._made(chosen.project)
        plan = made.plan
        work = Forecast(plan).work(0, plan.total)
        names = ("", *plan.project.colourways)
        groups = [
            Group(way, number, plan, work)
            for way, number in zip(names, chosen.copies, strict=False)
            if number
        ]
        stock = read_desk(self._store).stock
        return quote_of(groups, stock, self._prices, made.time_for, today(), unit=self._units())


def over_all_words(*, over_all: bool) -> str:
    """Return the sentence about the way an order is worked from here on."""
    if over_all:
        return "One step over all pieces of the order, then the next step."
    return "One piece of the order after the other."


def _short(quote: Quote) -> list[str]:
    """Return price, hours and day in a few words each."""
    price = f"price {money_words(quote.total.likely, quote.currency)}" if quote.total else ""
    work = f"about {show_time(quote.hours.likely_s)} of work"
    ready = quote.ready.likely if quote.ready else None
    return [*([price] if price else []), work, *([f"ready {day_words(ready)}"] if ready else [])]
