"""The text form of an exported order with its pieces, or of the stock."""

import json
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Final, TypeAlias

from coach import __version__
from coach.kept_events import BadEntry, UnknownEntry
from coach.orders.desk_bounds import checked_desk_event
from coach.orders.desk_events import (
    DESK_EVENTS,
    DeskEvent,
    OrderBegun,
    OrderEvent,
    PieceJoined,
    StockEvent,
)
from coach.piece.event_reading import newer
from coach.piece.export_import import (
    ExportedPiece,
    check_layout,
    from_object,
    read_json,
    texts_in,
    to_text,
)
from coach.piece.piece_errors import CannotTakeIn
from coach.text import file_stem, name_key, unseen

LAYOUT: Final = 1
ORDER: Final = "coach order"
STOCK: Final = "coach stock"
_MOST_PIECES: Final = 2_000
_MOST_ENTRIES: Final = 50_000


@dataclass(frozen=True, slots=True)
class CarriedOrder:
    """An order read from a file: its events, and its pieces by their ids."""

    events: tuple[OrderEvent, ...]
    pieces: Mapping[str, ExportedPiece]

    @property
    def name(self) -> str:
        """The name of the order."""
        return self.events[0].order


@dataclass(frozen=True, slots=True)
class CarriedStock:
    """The stock read from a file: its events."""

    events: tuple[StockEvent, ...]


AnyCarried: TypeAlias = ExportedPiece | CarriedOrder | CarriedStock


def order_text(events: Sequence[OrderEvent], pieces: Iterable[ExportedPiece]) -> str:
    """Return an order with its pieces as text that `from_file_text` reads."""
    told = ",\n".join(to_text(one.name, one.events, one.uid).rstrip() for one in pieces)
    return f'{_head(ORDER)}, "events": [\n{_lines(events)}\n], "pieces": [\n{told}\n]}}\n'


def stock_text(events: Sequence[StockEvent]) -> str:
    """Return the stock as text that `from_file_text` reads."""
    return f'{_head(STOCK)}, "events": [\n{_lines(events)}\n]}}\n'


def desk_file_name(name: str, kind: str) -> str:
    """Return a file name for an order or the stock that any system accepts."""
    return f"{file_stem(name) or kind}.{kind}.json"


def _head(mark: str) -> str:
    return json.dumps({mark: LAYOUT, "written by": f"coach {__version__}"})[:-1]


def _lines(events: Iterable[DeskEvent]) -> str:
    return ",\n".join(json.dumps({"kind": e.kind, **e.values()}) for e in events)


def from_file_text(text: str) -> AnyCarried:
    """Read an exported piece, order or stock.

    Raises:
        CannotTakeIn: It is none of them, is torn, holds control characters, or cannot have
            happened.
        NewerVersion: A newer coach wrote it.
    """
    data = read_json(text)
    for mark, read in ((ORDER, _order), (STOCK, _stock)):
        if isinstance(data, dict) and mark in data:
            check_layout(data[mark], LAYOUT, "order or stock")
            events = data.get("events")
            if not isinstance(events, list) or not events or len(events) > _MOST_ENTRIES:
                raise CannotTakeIn(f"This is not an exported {mark.split()[1]}, or not all of it.")
            return read(tuple(_event(n, one) for n, one in enumerate(events, 1)), data)
    return from_object(data)


def _event(number: int, values: object) -> DeskEvent:
    if not isinstance(values, dict) or not isinstance(values.get("kind"), str):
        raise CannotTakeIn(f"Entry {number} has no kind.")
    kind = values["kind"][:40]
    given: dict[str, Any] = {key: value for key, value in values.items() if key != "kind"}
    try:
        event = checked_desk_event(DESK_EVENTS.read(kind, given))
        hidden = any(unseen(text) for text in texts_in(given))
    except UnknownEntry as error:
        raise newer(str(error)) from error
    except (BadEntry, RecursionError) as error:
        raise CannotTakeIn(f"Entry {number} cannot be read: {error}.") from error
    if hidden:
        raise CannotTakeIn(f"Entry {number} holds characters that nobody can see.")
    return event


def _stock(events: Sequence[DeskEvent], data: Mapping[str, Any]) -> CarriedStock:
    del data
    found = tuple(event for event in events if isinstance(event, StockEvent))
    if len(found) < len(events):
        raise CannotTakeIn("This file holds entries that do not belong to a stock.")
    return CarriedStock(found)


def _order(events: Sequence[DeskEvent], data: Mapping[str, Any]) -> CarriedOrder:
    found = tuple(event for event in events if isinstance(event, OrderEvent))
    begins = [isinstance(event, OrderBegun) for event in found]
    if len(found) < len(events) or begins != [True, *[False] * (len(found) - 1)]:
        raise CannotTakeIn(
            "An order begins once and holds only its own entries; this file's does not."
        )
    if len({name_key(event.order) for event in found}) > 1:
        raise CannotTakeIn("This file holds entries of several orders.")
    pieces = _pieces(data.get("pieces"))
    joined = [event.piece for event in found if isinstance(event, PieceJoined)]
    if len(set(joined)) < len(joined) or not pieces.keys() <= set(joined):
        raise CannotTakeIn("The pieces in this file are not those of its order.")
    return CarriedOrder(found, pieces)


def _pieces(told: object) -> dict[str, ExportedPiece]:
    if not isinstance(told, list) or len(told) > _MOST_PIECES:
        raise CannotTakeIn("This is not an exported order, or not all of it.")
    found = [from_object(one) for one in told]
    by_id = {one.uid: one for one in found}
    if len(by_id) < len(found) or "" in by_id:
        raise CannotTakeIn("Two pieces in this file cannot be told apart.")
    return by_id
