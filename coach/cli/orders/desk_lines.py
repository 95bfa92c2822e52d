"""The whole desk in lines: orders under way, what is in stock, and the quote of a project."""

import os
from collections.abc import Iterator

from coach.cli.orders.makers_hands import InHands
from coach.cli.orders.order_told import order_told
from coach.cli.orders.orders_page import order_line
from coach.cli.orders.quote_page import page
from coach.cli.orders.stock_page import page as stock_page
from coach.cli.orders.today import today
from coach.orders.prices import Prices
from coach.orders.quote import Group, quote_of
from coach.piece import Store, folders
from coach.piece.order_log import orders_now
from coach.piece.reports.forecast import Forecast


def desk_lines(
    made: InHands, copies: int, colourway: str, prices: Prices | None, unit: str
) -> list[str]:
    """Return the desk in lines of at most 78 columns. Raises PieceError."""
    return [*_orders(prices), *_stock(made, unit), *_quote(made, copies, colourway, prices, unit)]


def _orders(prices: Prices | None) -> Iterator[str]:
    database = folders(os.environ).database
    if not database.exists():
        return
    with Store(database) as store:
        found = [order_told(store, one, prices) for one in orders_now(store) if one.order.is_open]
    if found:
        yield "Orders"
        yield from (f"  {order_line(one)}" for one in found)
        yield ""


def _stock(made: InHands, unit: str) -> Iterator[str]:
    items = list(made.desk.stock.items.values())
    if items:
        yield "In stock"
        yield from (f"  {line}" for line in stock_page(items, unit))
        yield ""


def _quote(
    made: InHands, copies: int, colourway: str, prices: Prices | None, unit: str
) -> Iterator[str]:
    plan = made.plan
    group = Group(colourway, copies, plan, Forecast(plan).work(0, plan.total))
    quote = quote_of([group], made.desk.stock, prices, made.time_for, today(), unit=unit)
    yield "Quote"
    yield from (f"  {line}".rstrip() for line in page(quote, unit))
