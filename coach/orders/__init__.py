"""The order desk as pure values: quotes, orders, stock, cut lists, labels, prices.

What the store needs of it stands here by name and is loaded with the first entry that is read or
stored: few sittings have one.
"""

from types import MappingProxyType
from typing import TYPE_CHECKING, Final

from coach.lazy_names import lazy_names

if TYPE_CHECKING:
    from coach.orders.desk_bounds import MOST_ENTRIES, checked_desk_event
    from coach.orders.desk_events import DESK_EVENTS, DeskEvent

__all__ = ["DESK_EVENTS", "MOST_ENTRIES", "DeskEvent", "checked_desk_event"]

_MODULES: Final = MappingProxyType(
    {
        "DESK_EVENTS": "desk_events",
        "DeskEvent": "desk_events",
        "MOST_ENTRIES": "desk_bounds",
        "checked_desk_event": "desk_bounds",
    }
)


if not TYPE_CHECKING:  # so that a name which is not here is found before it is called
    __getattr__ = lazy_names(__name__, _MODULES)
