"""Export and import of an order with all its pieces."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final

from coach.desk.desk_export import CarriedOrder, CarriedStock, order_text, stock_text
from coach.desk.desk_log import append_to_desk, read_desk
from coach.desk.order_log import order_now
from coach.orders.desk_events import DeskEvent, OrderBegun, OrderEvent, StockEvent
from coach.orders.desk_state import DeskState, Order, fold_desk
from coach.piece.export_import import ExportedPiece, take_in_piece
from coach.piece.piece_errors import CannotTakeIn, NoSuchPiece
from coach.piece.service import free_name
from coach.piece.storage.read_piece import read_whole_piece
from coach.piece.storage.store import Store
from coach.piece.storage.summary import Summary
from coach.text import name_key, one_line

_LONGEST: Final = 60


@dataclass(frozen=True, slots=True)
class _Steps:
    """The import as events: either added to those here, or replacing them."""

    after: tuple[OrderEvent, ...]
    anew: bool = False


def exported_order(store: Store, name: str) -> str:
    """Return a stored order with its pieces as text. Raises PieceError."""
    with store.one_view():
        order = order_now(store, name).order
        events = events_of(store.desk_events(), order.name)
        kept = {piece.uid: piece for piece in store.pieces()}
        pieces = [kept[one.piece] for one in order.pieces if one.piece in kept]
        carried = [_carried(store, piece) for piece in pieces]
    if events and not isinstance(events[0], OrderBegun):
        events = (_begun(order, carried), *events)
    return order_text(events, carried)


def _begun(order: Order, pieces: Sequence[ExportedPiece]) -> OrderBegun:
    """Return a first event for an order that lost its own with a damaged file."""
    title = order.title or next((piece.title for piece in pieces), "")
    return OrderBegun(at_ms=order.begun_ms, order=order.name, title=title, source=order.source)


def _carried(store: Store, piece: Summary) -> ExportedPiece:
    return ExportedPiece(piece.name, read_whole_piece(store, piece.id).events, piece.uid)


def events_of(events: Sequence[DeskEvent], name: str) -> tuple[OrderEvent, ...]:
    """Return the events of one order."""
    key = name_key(name)
    return tuple(e for e in events if isinstance(e, OrderEvent) and name_key(e.order) == key)


def take_in_order(
    store: Store, carried: CarriedOrder, name: str = "", *, instead: bool = False
) -> str:
    """Store an imported order with its pieces and return a sentence about the result.

    An order of its name that has come less far along the same way is brought up to it, and so is
    each of its pieces, which are recognized by their ids. The pieces come first: after an
    interruption, importing the file again continues.

    Args:
        store: The store.
        carried: The order.
        name: Its name here; "" keeps its own.
        instead: Whether it may replace one that went another way, and its pieces those that did.

    Raises:
        CannotTakeIn: An order of that name, or one of its pieces, went another way; then nothing is
            changed.
    """
    wanted = one_line(name)[:_LONGEST] or carried.name
    events = tuple(replace(event, order=wanted) for event in carried.events)
    desk = read_desk(store)
    steps = _steps(store.desk_events(), events, wanted, instead=instead)
    _see_free(desk, carried, wanted)
    before = {piece.uid: piece for piece in store.pieces()}
    if not instead:
        _see_same_way(store, carried, before)
    came = [_take_piece(store, one, before) for one in carried.pieces.values()]
    if steps.anew:
        _put_instead(store, wanted, steps.after)
    elif steps.after:
        append_to_desk(store, lambda now: _still(now, desk, steps.after))
    order = fold_desk(events).order(wanted)
    there = f"{len(order.sound)} pieces" if order else ""
    if desk.order(wanted) is None:
        return f"The order ‘{wanted}’ is here now, with {there}."
    if steps.anew:
        return f"The order ‘{wanted}’ was replaced."
    if steps.after or any(came):
        return f"The order ‘{wanted}’ is up to date now."
    return f"The order ‘{wanted}’ is here already, with all of it. Nothing was changed."


def _steps(
    kept: Sequence[DeskEvent], events: tuple[OrderEvent, ...], name: str, *, instead: bool
) -> _Steps:
    here = events_of(kept, name)
    same = min(len(here), len(events))
    if [replace(one, order=name) for one in here[:same]] == list(events[:same]):
        return _Steps(events[len(here) :])
    if instead:
        return _Steps(events, anew=True)
    other = free_name(name, [e.order for e in kept if isinstance(e, OrderEvent)])
    raise CannotTakeIn(
        f"An order called ‘{name}’ is here already and went another way. Take this one in beside "
        f"it with `--name '{other}'`, or in its place with --replace."
    )


def _see_free(desk: DeskState, carried: CarriedOrder, name: str) -> None:
    """Check that no other order here has one of the pieces. Raises CannotTakeIn."""
    for uid in carried.pieces:
        order = desk.order_of(uid)
        if order and name_key(order.name) != name_key(name):
            raise CannotTakeIn(
                f"‘{carried.pieces[uid].name}’ belongs to the order ‘{order.name}’ here. Take the "
                f"file in without --name, or under the name ‘{order.name}’."
            )


def _see_same_way(store: Store, carried: CarriedOrder, before: Mapping[str, Summary]) -> None:
    """Check that each piece here has the file's history so far. Raises CannotTakeIn."""
    for uid, one in carried.pieces.items():
        here = before.get(uid)
        if here is None:
            continue
        events = read_whole_piece(store, here.id).events
        same = min(len(events), len(one.events))
        if events[:same] != one.events[:same]:
            raise CannotTakeIn(
                f"‘{here.name}’ here went another way than in the file. --replace puts the file's "
                "in its place."
            )


def _take_piece(store: Store, one: ExportedPiece, before: Mapping[str, Summary]) -> bool:
    """Import one piece, under its name here if it is here; return whether anything changed."""
    here = before.get(one.uid)
    if here:
        name = here.name
    else:
        name = free_name(one.name or one.title, [piece.name for piece in store.pieces()])
    take_in_piece(store, one, name, instead=True)
    now = next((piece for piece in store.pieces() if piece.uid == one.uid), None)
    return now is None or here is None or now.events != here.events


def _still(now: DeskState, before: DeskState, events: tuple[OrderEvent, ...]) -> list[OrderEvent]:
    """Return the events to add, if the order did not change meanwhile. Raises CannotTakeIn."""
    name = events[0].order
    if now.order(name) != before.order(name):
        raise CannotTakeIn("It was changed in another window meanwhile. Take it in again.")
    return list(events)


def _put_instead(store: Store, name: str, events: tuple[OrderEvent, ...]) -> None:
    with store.atomic():
        kept = store.desk_events()
        gone = set(map(id, events_of(kept, name)))
        store.write_desk_anew([*(one for one in kept if id(one) not in gone), *events])


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
