"""An order with all that is told of it: how far, the time left, the day, how it went so far."""

from coach.cli.orders.last_time import look_back_on
from coach.cli.orders.orders_page import OrderTold
from coach.cli.orders.today import today
from coach.desk.order_log import OrderAt, left_of
from coach.desk.order_material import material_of
from coach.orders.prices import BETWEEN_S, Prices
from coach.orders.quote_model import ReadyDates
from coach.orders.week import ready_on
from coach.pace.estimate import Range
from coach.piece import Store


def order_told(store: Store, order: OrderAt, prices: Prices | None) -> OrderTold:
    """Return an order with what is to be told of it: the time left, the day, how it went so far.

    Args:
        store: Where its pieces are kept.
        order: The order, and how far each of its pieces is.
        prices: The maker's hours and prices; None leaves the day untold.

    Raises:
        PieceError: A piece cannot be read.
    """
    between_s = prices.between_s if prices else BETWEEN_S
    left = left_of(store, order, between_s) if order.order.is_open else None
    used = material_of(store, order, prices) if order.order.is_open else None
    return OrderTold(order, left, _ready(prices, left), look_back_on(order, used))


def _ready(prices: Prices | None, left: Range | None) -> ReadyDates | None:
    if prices is None or prices.week is None or left is None:
        return None
    week, day = prices.week, today()
    return ReadyDates(*(ready_on(week, day, s) for s in (left.low_s, left.likely_s, left.high_s)))
