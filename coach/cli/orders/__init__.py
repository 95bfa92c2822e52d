"""Shared code of the order desk's commands: options, prices, pages of text.

What the bench has of it stands here by name and is loaded when a piece turns out to need it.
"""

from types import MappingProxyType
from typing import TYPE_CHECKING, Final

from coach.lazy_names import lazy_names

if TYPE_CHECKING:
    from coach.cli.orders.batch_on_bench import BatchOnBench, refuse_for_orders, with_orders
    from coach.cli.orders.desk_controller import DeskController

__all__ = ["BatchOnBench", "DeskController", "refuse_for_orders", "with_orders"]

_MODULES: Final = MappingProxyType(
    {
        "BatchOnBench": "batch_on_bench",
        "DeskController": "desk_controller",
        "refuse_for_orders": "batch_on_bench",
        "with_orders": "batch_on_bench",
    }
)


if not TYPE_CHECKING:  # so that a name which is not here is found before it is called
    __getattr__ = lazy_names(__name__, _MODULES)
