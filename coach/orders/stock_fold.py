"""The fold of desk events into stock."""

from dataclasses import replace

from coach.orders.desk_events import (
    DeskEvent,
    StockAdded,
    StockCounted,
    StockCut,
    StockEvent,
    StockPutBack,
    StockReturned,
    StockTaken,
    StockUsed,
)
from coach.orders.read_prices import cord_price
from coach.orders.stock import Item, item_key


def put_in_stock(items: dict[str, Item], event: DeskEvent) -> None:
    """Apply a desk event to the items, by their normalized names; changes the mapping."""
    if isinstance(event, StockEvent):
        item = items.get(item_key(event.what)) or Item(event.what)
        items[item_key(item.what)] = _changed(item, event)


def _changed(item: Item, event: StockEvent) -> Item:
    if isinstance(event, StockAdded):
        return _added(item, event)
    if isinstance(event, StockCounted):
        empty = replace(item, lengths_mm=(), grams=0.0, count=0, owed_mm=0.0)
        return empty.put(tuple(event.lengths_mm), event.grams, event.count)
    if isinstance(event, StockCut):
        return item.cut(event.piece_mm, event.from_mm)
    if isinstance(event, StockPutBack):
        return item.put_back(event.piece_mm, event.from_mm)
    if isinstance(event, StockTaken):
        return item.taken(event.length_mm, event.grams, event.count)
    if isinstance(event, StockUsed):
        return item.taken(0, 0, event.count)
    return item.put((), 0, event.count) if isinstance(event, StockReturned) else item


def _added(item: Item, event: StockAdded) -> Item:
    known = replace(
        item,
        by_number=item.by_number or event.by_number,
        fineness_tex=event.fineness_tex or item.fineness_tex,
    )
    if event.price and event.by_number:
        known = replace(known, price_each=event.price)
    elif event.price:
        price = cord_price(event.price)
        known = replace(known, price=price, price_said=event.price) if price else known
    if event.fineness_tex and known.grams:  # what lay there by weight alone has a length now
        known = replace(known, grams=0.0).put((), known.grams)
    return known.put(tuple(event.lengths_mm), event.grams, event.count)
