"""The state of the desk: stock, orders, and which stock went into which piece."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from types import MappingProxyType
from typing import Any, TypeAlias

from coach.orders.desk_bounds import desk_event_passes
from coach.orders.desk_events import (
    DeskEvent,
    OrderBegun,
    OrderEnded,
    OrderWorked,
    PieceJoined,
    PieceLeft,
    PieceSpoilt,
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
from coach.orders.stock import Item, Stock
from coach.text import name_key


def put_in_stock(items: dict[str, Item], event: DeskEvent) -> None:
    """Apply a desk event to the items, by their normalized names; changes the mapping."""
    if isinstance(event, StockEvent):
        item = items.get(name_key(event.what)) or Item(event.what)
        items[name_key(item.what)] = _after(item, event)


def _after(item: Item, event: StockEvent) -> Item:
    if isinstance(event, StockAdded):
        return _with_added(item, event)
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


def _with_added(item: Item, event: StockAdded) -> Item:
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


Label: TypeAlias = tuple[str, str]
"""What went into a piece: the piece's own id, and what is written on the cord, or the finding."""


@dataclass(frozen=True, slots=True)
class OrderPiece:
    """One piece under an order, by its id; `spoilt` if it was given up."""

    piece: str
    colourway: str
    length_mm: float
    spoilt: bool = False
    why: str = ""


@dataclass(frozen=True, slots=True)
class Order:
    """One order: its pieces in the order in which they were begun, and its quote.

    Times are UTC epoch ms. `ended_ms` is None while it is open.
    """

    name: str
    title: str
    source: str
    begun_ms: int
    quote: Mapping[str, Any]
    pieces: tuple[OrderPiece, ...] = ()
    over_all: bool = False
    ended_ms: int | None = None
    given_up: bool = False
    earned: str = ""
    material: Mapping[str, Any] = field(default_factory=dict)

    @property
    def is_open(self) -> bool:
        """Whether it is still worked on."""
        return self.ended_ms is None

    @property
    def sound(self) -> tuple[OrderPiece, ...]:
        """Its pieces without those that were spoilt."""
        return tuple(piece for piece in self.pieces if not piece.spoilt)


@dataclass(frozen=True, slots=True)
class DeskState:
    """The desk after its first `seq` events; orders by their normalized names."""

    seq: int = 0
    stock: Stock = field(default_factory=Stock)
    orders: Mapping[str, Order] = field(default_factory=lambda: MappingProxyType({}))
    cut: Mapping[Label, StockCut] = field(default_factory=lambda: MappingProxyType({}))
    used: Mapping[Label, StockUsed] = field(default_factory=lambda: MappingProxyType({}))

    def order(self, name: str) -> Order | None:
        """Return the order of a name, without regard to case and spacing."""
        return self.orders.get(name_key(name))

    def order_of(self, piece: str) -> Order | None:
        """Return the order that a piece belongs to, by the piece's id."""
        return next(
            (o for o in self.orders.values() if any(p.piece == piece for p in o.pieces)), None
        )


def fold_desk(events: Iterable[DeskEvent], state: DeskState | None = None) -> DeskState:
    """Return the desk after all events, from the beginning or from a given state.

    An invalid event keeps its number and changes nothing.
    """
    before = state or DeskState()
    seq, stock = before.seq, dict(before.stock.items)
    orders, cut, used = dict(before.orders), dict(before.cut), dict(before.used)
    for event in events:
        seq += 1
        if desk_event_passes(event):
            put_in_stock(stock, event)
            _put_in_orders(orders, event)
            _put_in_cut(cut, event)
            _put_in_used(used, event)
    proxy = MappingProxyType
    return DeskState(seq, Stock(proxy(stock)), proxy(orders), proxy(cut), proxy(used))


def fold_desk_event(state: DeskState, event: DeskEvent) -> DeskState:
    """Return the desk after one more event."""
    return fold_desk((event,), state)


def _put_in_cut(cut: dict[Label, StockCut], event: DeskEvent) -> None:
    if isinstance(event, StockCut) and event.label:
        cut[event.piece, event.label] = event
    elif isinstance(event, StockPutBack):
        cut.pop((event.piece, event.label), None)


def _put_in_used(used: dict[Label, StockUsed], event: DeskEvent) -> None:
    if isinstance(event, StockUsed):
        used[event.piece, name_key(event.what)] = event
    elif isinstance(event, StockReturned):
        used.pop((event.piece, name_key(event.what)), None)


def _put_in_orders(orders: dict[str, Order], event: DeskEvent) -> None:
    if isinstance(event, OrderBegun):
        order = Order(event.order, event.title, event.source, event.at_ms, event.quote,
                      over_all=event.over_all)  # fmt: skip
    elif isinstance(event, PieceJoined | PieceLeft | PieceSpoilt | OrderWorked | OrderEnded):
        before = orders.get(name_key(event.order))
        if before is None:  # its beginning was lost with a damaged file
            before = Order(event.order, "", "", event.at_ms, MappingProxyType({}))
        order = _changed(before, event)
    else:
        return
    orders[name_key(order.name)] = order


def _changed(
    order: Order, event: PieceJoined | PieceLeft | PieceSpoilt | OrderWorked | OrderEnded
) -> Order:
    if isinstance(event, PieceJoined):
        joined = OrderPiece(event.piece, event.colourway, event.length_mm)
        return replace(order, pieces=(*order.pieces, joined))
    if isinstance(event, PieceLeft):
        return replace(order, pieces=tuple(p for p in order.pieces if p.piece != event.piece))
    if isinstance(event, PieceSpoilt):
        return replace(order, pieces=tuple(
            replace(p, spoilt=True, why=event.why) if p.piece == event.piece else p
            for p in order.pieces
        ))  # fmt: skip
    if isinstance(event, OrderWorked):
        return replace(order, over_all=event.over_all)
    return replace(
        order, ended_ms=event.at_ms, given_up=event.given_up,
        earned=event.earned or order.earned, material=event.material,
    )  # fmt: skip
