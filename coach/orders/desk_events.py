"""What happens at the desk, as frozen events that are kept one by one, beside those of pieces."""

from collections.abc import Mapping
from dataclasses import field
from typing import Any, Final

from coach.kept_events import EventKinds, KeptEvent, event


@event()
class DeskEvent(KeptEvent):
    """Something that happened at the desk; `at_ms` is UTC in epoch milliseconds."""


@event()
class StockEvent(DeskEvent):
    """Something that happened to a thing in stock; `what` is the name on its label."""

    what: str


@event()
class OrderEvent(DeskEvent):
    """Something that happened to an order, by its name."""

    order: str


@event()
class StockAmount(StockEvent):
    """Cord in hanks or by weight, or beads and rings by number."""

    lengths_mm: list[float] = field(default_factory=list)
    grams: float = 0.0
    count: int = 0


@event("stock added")
class StockAdded(StockAmount):
    """So much came in.

    `fineness_tex` is what the cord weighs for its length, 0 where nobody says; `price` is as it
    was written, `14 per 500 g` or `0.20`.
    """

    by_number: bool = False
    fineness_tex: float = 0.0
    price: str = ""


@event("stock counted")
class StockCounted(StockAmount):
    """The maker looked: this is what is there of a thing, whatever was thought before."""


@event()
class CordFromStock(StockEvent):
    """A piece of cord `piece_mm` long, from the remnant of `from_mm`; 0 if none was long enough.

    `piece` is the piece of work's own id and `label` what is written on the cord: `reed.1`.
    """

    piece_mm: float
    from_mm: float
    piece: str = ""
    label: str = ""


@event("stock cut")
class StockCut(CordFromStock):
    """It was cut."""


@event("stock put back")
class StockPutBack(CordFromStock):
    """It was not cut after all; the fields are those of its `StockCut`."""


@event("stock taken")
class StockTaken(StockEvent):
    """Something went out of stock otherwise: given away, or used in an order's pieces."""

    length_mm: float = 0.0
    grams: float = 0.0
    count: int = 0
    why: str = ""


@event()
class FindingsOfPiece(StockEvent):
    """So many beads or rings of a piece of work; `piece` is its own id."""

    count: int
    piece: str


@event("stock used")
class StockUsed(FindingsOfPiece):
    """They went into the piece, which is finished."""


@event("stock returned")
class StockReturned(FindingsOfPiece):
    """They are free: the piece is not finished after all."""


@event("order begun")
class OrderBegun(OrderEvent):
    """An order was begun: of which project, and as it was quoted (see `quote_data.as_object`).

    `over_all` says that one step is worked over all of its pieces, not one piece after the other.
    """

    title: str
    source: str
    quote: Mapping[str, Any] = field(default_factory=dict)
    over_all: bool = False


@event("piece joined order")
class PieceJoined(OrderEvent):
    """A piece belongs to an order from now on; `piece` is its own id, `length_mm` its plan's."""

    piece: str
    colourway: str = ""
    length_mm: float = 0.0


@event("piece left order")
class PieceLeft(OrderEvent):
    """A piece is not under this order any more: the order was split, and another one has it."""

    piece: str


@event("piece spoilt")
class PieceSpoilt(OrderEvent):
    """A piece of an order was given up; what it took stays with the order."""

    piece: str
    why: str = ""


@event("order worked")
class OrderWorked(OrderEvent):
    """From now on an order is worked so: one step over all pieces, or one after the other."""

    over_all: bool


@event("order ended")
class OrderEnded(OrderEvent):
    """An order is over: done, or given up with what is made staying made.

    `earned` is the money that it brought, as a decimal number, "" where nobody said; `material` is
    what was used for it and what that cost then (see `afterwards.Material`).
    """

    given_up: bool = False
    earned: str = ""
    material: Mapping[str, Any] = field(default_factory=dict)


DESK_EVENTS: Final[EventKinds[DeskEvent]] = EventKinds(
    StockAdded, StockCounted, StockCut, StockPutBack, StockTaken, StockUsed, StockReturned,
    OrderBegun, PieceJoined, PieceLeft, PieceSpoilt, OrderWorked, OrderEnded,
)  # fmt: skip
"""All kinds that the desk's part of the store may hold."""
