"""The stored order desk: orders with their pieces, preparation lists, stock, export and import.

What opens pieces needs stands here by name and is loaded when the desk turns out to have entries.
"""

from types import MappingProxyType
from typing import TYPE_CHECKING, Final

from coach.lazy_names import lazy_names

if TYPE_CHECKING:
    from coach.desk.desk_log import read_desk
    from coach.desk.order_log import begin_order, orders_now
    from coach.desk.stock_ticks import StockTicks

__all__ = ["StockTicks", "begin_order", "orders_now", "read_desk"]

_MODULES: Final = MappingProxyType(
    {
        "StockTicks": "stock_ticks",
        "begin_order": "order_log",
        "read_desk": "desk_log",
        "orders_now": "order_log",
    }
)


if not TYPE_CHECKING:  # so that a name which is not here is found before it is called
    __getattr__ = lazy_names(__name__, _MODULES)
