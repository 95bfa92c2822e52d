"""Export and import of the stock."""

from collections.abc import Sequence

from coach.desk.desk_text import CarriedStock, stock_text
from coach.orders.desk_events import DeskEvent, StockEvent
from coach.piece.piece_errors import CannotTakeIn, NoSuchPiece
from coach.piece.storage.store import Store


def exported_stock(store: Store) -> str:
    """Return the stock with all its events as text. Raises PieceError."""
    events = _of_stock(store.desk_events())
    if not events:
        raise NoSuchPiece("Nothing was ever in stock: there is nothing to export.")
    return stock_text(events)


def take_in_stock(store: Store, carried: CarriedStock, *, instead: bool = False) -> str:
    """Store an imported stock and return a sentence about the result.

    Args:
        store: The store.
        carried: The stock.
        instead: Whether it may replace a stock that went another way.

    Raises:
        CannotTakeIn: The stock here went another way; then nothing is changed.
    """
    with store.atomic():
        kept = store.desk_events()
        here, told = _of_stock(kept), carried.events
        same = min(len(here), len(told))
        if here[:same] != told[:same]:
            if not instead:
                raise CannotTakeIn(
                    "The stock here went another way than the file's. --replace puts the file's "
                    "in its place."
                )
            others = [one for one in kept if not isinstance(one, StockEvent)]
            store.write_desk_anew([*others, *told])
            return "The stock was replaced."
        more = told[len(here) :]
        store.add_to_desk(len(kept), more)
    if not more:
        return "The stock here has all of it. Nothing was changed."
    if not here:
        return "The stock is here now."
    return f"The stock has {len(more):,} more {'entries' if len(more) > 1 else 'entry'} now."


def _of_stock(events: Sequence[DeskEvent]) -> tuple[StockEvent, ...]:
    return tuple(event for event in events if isinstance(event, StockEvent))
