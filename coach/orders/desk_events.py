"""What happens at the desk, as frozen events that are kept one by one, beside those of pieces."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any, ClassVar, Final

from coach.kept_events import EventKinds, KeptEvent


@dataclass(frozen=True, slots=True, kw_only=True)
class DeskEvent(KeptEvent):
    """Something that happened at the desk; `at_ms` is UTC in epoch milliseconds."""


@dataclass(frozen=True, slots=True, kw_only=True)
class StockEvent(DeskEvent):
    """Something that happened to a thing in stock; `what` is the name on its label."""

    what: str


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderEvent(DeskEvent):
    """Something that happened to an order, by its name."""

    order: str


@dataclass(frozen=True, slots=True, kw_only=True)
class StockAdded(StockEvent):
    """Cord in hanks or by weight, or beads and rings by number, came in.

    `fineness_tex` is what the cord weighs for its length, 0 where nobody says; `price` is as it
    was written, `14 per 500 g` or `0.20`.
    """

    kind: ClassVar[str] = "stock added"
    lengths_mm: list[float] = field(default_factory=list)
    grams: float = 0.0
    count: int = 0
    by_number: bool = False
    fineness_tex: float = 0.0
    price: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class StockCounted(StockEvent):
    """The maker looked: this is what is there of a thing, whatever was thought before."""

    kind: ClassVar[str] = "stock counted"
    lengths_mm: list[float] = field(default_factory=list)
    grams: float = 0.0
    count: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class StockCut(StockEvent):
    """A piece was cut from the remnant that was `from_mm` long; 0 where none was long enough.

    `piece` is the piece of work's own id and `label` what is written on the cord: `reed.1`.
    """

    kind: ClassVar[str] = "stock cut"
    piece_mm: float
    from_mm: float
    piece: str = ""
    label: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class StockPutBack(StockEvent):
    """That piece was not cut after all; the fields are those of its `StockCut`."""

    kind: ClassVar[str] = "stock put back"
    piece_mm: float
    from_mm: float
    piece: str = ""
    label: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class StockTaken(StockEvent):
    """Something went out of stock otherwise: given away, or used in an order's pieces."""

    kind: ClassVar[str] = "stock taken"
    length_mm: float = 0.0
    grams: float = 0.0
    count: int = 0
    why: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class StockUsed(StockEvent):
    """So many beads or rings went into a piece, which is finished; `piece` is its own id."""

    kind: ClassVar[str] = "stock used"
    count: int
    piece: str


@dataclass(frozen=True, slots=True, kw_only=True)
class StockReturned(StockEvent):
    """The piece is not finished after all: they are free; the fields are those of `StockUsed`."""

    kind: ClassVar[str] = "stock returned"
    count: int
    piece: str


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderBegun(OrderEvent):
    """An order was begun: of which project, and as it was quoted (see `quote_data.as_object`).

    `over_all` says that one step is worked over all of its pieces, not one piece after the other.
    """

    kind: ClassVar[str] = "order begun"
    title: str
    source: str
    quote: Mapping[str, Any] = field(default_factory=dict)
    over_all: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceJoined(OrderEvent):
    """A piece belongs to an order from now on; `piece` is its own id, `length_mm` its plan's."""

    kind: ClassVar[str] = "piece joined order"
    piece: str
    colourway: str = ""
    length_mm: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceLeft(OrderEvent):
    """A piece is not under this order any more: the order was split, and another one has it."""

    kind: ClassVar[str] = "piece left order"
    piece: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceSpoilt(OrderEvent):
    """A piece of an order was given up; what it took stays with the order."""

    kind: ClassVar[str] = "piece spoilt"
    piece: str
    why: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderWorked(OrderEvent):
    """From now on an order is worked so: one step over all pieces, or one after the other."""

    kind: ClassVar[str] = "order worked"
    over_all: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderEnded(OrderEvent):
    """An order is over: done, or given up with what is made staying made.

    `earned` is the money that it brought, as a decimal number, "" where nobody said.
    """

    kind: ClassVar[str] = "order ended"
    given_up: bool = False
    earned: str = ""


DESK_EVENTS: Final[EventKinds[DeskEvent]] = EventKinds(
    StockAdded, StockCounted, StockCut, StockPutBack, StockTaken, StockUsed, StockReturned,
    OrderBegun, PieceJoined, PieceLeft, PieceSpoilt, OrderWorked, OrderEnded,
)  # fmt: skip
"""All kinds that the desk's part of the store may hold."""
