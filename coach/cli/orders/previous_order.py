"""The last order of a project, looked back on for its next quote."""

import os
from collections.abc import Iterator
from decimal import Decimal
from textwrap import wrap
from typing import Any

from coach.cli.orders.maker_desk import today
from coach.cli.orders.orders_page import OrderTold, afterwards_words
from coach.cli.output import WIDTH
from coach.desk.order_log import OrderAt, left_of, orders_now
from coach.desk.order_material import material_of
from coach.orders.order_outcome import Material, OrderOutcome, order_outcome, outcome_json
from coach.orders.prices import BETWEEN_S, Prices
from coach.orders.quote_model import ReadyDates, money_words
from coach.orders.working_week import ready_on
from coach.pace.estimate import Range
from coach.piece import PieceError, Store, folders
from coach.text import one_line


def outcome_of(order: OrderAt, used: Material | None = None) -> OrderOutcome:
    """Return what an order took and earned so far.

    Args:
        order: The order.
        used: The material used, for one under way; one that ended stores its own.
    """
    kept = order.order
    return order_outcome(
        kept.quote, order.finished, len(order.spoilt), order.worked_s, kept.earned,
        used=used or Material.from_data(kept.material), given_up=kept.given_up,
    )  # fmt: skip


def previous_order(title: str) -> OrderAt | None:
    """Return the last completed order of a project, None where there is none."""
    database = folders(os.environ).database
    if not database.exists():
        return None
    try:
        with Store(database) as store:
            found = orders_now(store)
    except PieceError:
        return None
    done = [o for o in found if not o.order.is_open and not o.order.given_up]
    same = [order for order in done if order.order.title == title and order.finished]
    return max(same, key=lambda order: order.order.ended_ms or 0, default=None)


def previous_order_lines(order: OrderAt, hour: Decimal | None = None) -> Iterator[str]:
    """Yield what an order took and earned, as lines of at most 78 columns.

    Args:
        order: The order.
        hour: The price of an hour in the price list, with which the real one is compared.
    """
    yield ""
    yield f"Last time ({one_line(order.order.name)})"
    told = outcome_of(order)
    lines = list(afterwards_words(told))
    if hour is not None and told.rate is not None:
        lines.append(f"This quote asks {money_words(hour, told.currency)} for an hour.")
    for line in lines:
        yield from wrap(line, WIDTH, initial_indent="  ", subsequent_indent="    ")


def previous_order_json(order: OrderAt) -> dict[str, Any]:
    """Return the same as JSON."""
    return {"order": order.order.name, **outcome_json(outcome_of(order))}


def order_told(store: Store, order: OrderAt, prices: Prices | None) -> OrderTold:
    """Return an order with everything that its page shows.

    Args:
        store: The store.
        order: The order and its progress.
        prices: The maker's hours and prices; None leaves the day out.

    Raises:
        PieceError: A piece cannot be read.
    """
    between_s = prices.between_s if prices else BETWEEN_S
    left = left_of(store, order, between_s) if order.order.is_open else None
    used = material_of(store, order, prices) if order.order.is_open else None
    return OrderTold(order, left, _ready(prices, left), outcome_of(order, used))


def _ready(prices: Prices | None, left: Range | None) -> ReadyDates | None:
    if prices is None or prices.week is None or left is None:
        return None
    week, day = prices.week, today()
    return ReadyDates(*(ready_on(week, day, s) for s in (left.low_s, left.likely_s, left.high_s)))
