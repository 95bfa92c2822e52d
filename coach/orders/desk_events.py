"""The events of the order desk, frozen and stored one by one beside those of pieces."""

from collections.abc import Mapping
from dataclasses import field
from typing import Any, Final

from coach.kept_events import EventKinds, KeptEvent, event


@event()
class DeskEvent(KeptEvent):
    """An event of the desk; `at_ms` is UTC in epoch milliseconds."""


@event()
class StockEvent(DeskEvent):
    """An event of an item in stock; `what` is the name on its label."""

    what: str


@event()
class OrderEvent(DeskEvent):
    """An event of an order, by its name."""

    order: str


@event()
class StockAmount(StockEvent):
    """Cord in hanks or by weight, or beads and rings by number."""

    lengths_mm: list[float] = field(default_factory=list)
    grams: float = 0.0
    count: int = 0


@event("stock added")
class StockAdded(StockAmount):
    """An amount came into stock.

    `fineness_tex` is what the cord weighs for its length, 0 if unknown; `price` is as it was
    written, `14 per 500 g` or `0.20`.
    """

    by_number: bool = False
    fineness_tex: float = 0.0
    price: str = ""


@event("stock counted")
class StockCounted(StockAmount):
    """The maker counted an item: this is what is there, whatever was computed before."""


@event()
class CordFromStock(StockEvent):
    """A piece of cord `piece_mm` long, from the remnant of `from_mm`; 0 if none was long enough.

    `piece` is the id of the piece of work and `label` what is written on the cord: `reed.1`.
    """

    piece_mm: float
    from_mm: float
    piece: str = ""
    label: str = ""


@event("stock cut")
class StockCut(CordFromStock):
    """A piece of cord was cut."""


@event("stock put back")
class StockPutBack(CordFromStock):
    """A cut was undone; the fields are those of its `StockCut`."""


@event("stock taken")
class StockTaken(StockEvent):
    """Something left the stock otherwise: given away, or used in an order's pieces."""

    length_mm: float = 0.0
    grams: float = 0.0
    count: int = 0
    why: str = ""


@event()
class FindingsOfPiece(StockEvent):
    """A number of beads or rings of a piece of work; `piece` is its id."""

    count: int
    piece: str


@event("stock used")
class StockUsed(FindingsOfPiece):
    """Findings went into a piece, which is finished."""


@event("stock returned")
class StockReturned(FindingsOfPiece):
    """Findings are free again: the piece is not finished after all."""


@event("order begun")
class OrderBegun(OrderEvent):
    """An order was begun: its project and its quote (see `quote_data.quote_json`).

    `over_all` says that one step is worked over all of its pieces, not one piece after the other.
    """

    title: str
    source: str
    quote: Mapping[str, Any] = field(default_factory=dict)
    over_all: bool = False


@event("piece joined order")
class PieceJoined(OrderEvent):
    """A piece joined an order; `piece` is its id, `length_mm` its plan's."""

    piece: str
    colourway: str = ""
    length_mm: float = 0.0


@event("piece left order")
class PieceLeft(OrderEvent):
    """A piece left an order: the order was split, and another one has it."""

    piece: str


@event("piece spoilt")
class PieceSpoilt(OrderEvent):
    """A piece of an order was given up; what it took still counts for the order."""

    piece: str
    why: str = ""


@event("order worked")
class OrderWorked(OrderEvent):
    """The way of working an order changed: one step over all pieces, or piece by piece."""

    over_all: bool


@event("order ended")
class OrderEnded(OrderEvent):
    """An order ended: done, or given up with what is made staying made.

    `earned` is the money that it brought, as a decimal number, "" if unknown; `material` is what
    was used for it and what that cost then (see `afterwards.Material`).
    """

    given_up: bool = False
    earned: str = ""
    material: Mapping[str, Any] = field(default_factory=dict)


DESK_EVENTS: Final[EventKinds[DeskEvent]] = EventKinds(
    StockAdded, StockCounted, StockCut, StockPutBack, StockTaken, StockUsed, StockReturned,
    OrderBegun, PieceJoined, PieceLeft, PieceSpoilt, OrderWorked, OrderEnded,
)  # fmt: skip
"""All kinds that the desk's part of the store may hold."""
