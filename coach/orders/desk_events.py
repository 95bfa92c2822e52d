"""What happens at the desk, as frozen events that are kept one by one, beside those of pieces.

As with pieces, a field that is added later to a kind that was already kept needs a default.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field, fields
from math import inf
from typing import Any, ClassVar, Final, get_origin

MOST: Final = 2**47


class BadEntry(Exception):
    """An entry of the desk that cannot be read; the text says what of it."""


class UnknownEntry(BadEntry):
    """An entry of a kind, or with a field, that this coach does not know: a newer one wrote it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DeskEvent:
    """Something that happened at the desk; `at_ms` is UTC in epoch milliseconds."""

    kind: ClassVar[str]
    at_ms: int

    def values(self) -> dict[str, Any]:
        """Return every field by its name."""
        return {one.name: getattr(self, one.name) for one in fields(self)}


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


KINDS: Final[dict[str, type[DeskEvent]]] = {
    one.kind: one
    for one in (
        StockAdded, StockCounted, StockCut, StockPutBack, StockTaken, StockUsed, StockReturned,
        OrderBegun, PieceJoined, PieceLeft, PieceSpoilt, OrderWorked, OrderEnded,
    )
}  # fmt: skip

_TYPES: Final[Mapping[str, Mapping[str, Any]]] = {
    kind: {one.name: get_origin(one.type) or one.type for one in fields(known)}
    for kind, known in KINDS.items()
}


def event_from(kind: str, values: Mapping[str, Any]) -> DeskEvent:
    """Return the event of a kind whose fields are `values`, each of them looked at.

    Raises:
        UnknownEntry: This coach knows no such kind, or not all of its fields.
        BadEntry: The values are not what `DeskEvent.values` returns.
    """
    known = KINDS.get(kind)
    if known is None:
        raise UnknownEntry(f"an entry of the kind “{kind}”")
    types = _TYPES[kind]
    unknown = sorted(values.keys() - types.keys())
    if unknown:
        raise UnknownEntry(f"“{unknown[0]}” in an entry “{kind}”")
    for name, value in values.items():
        if not _fits(value, types[name]):
            raise BadEntry(f"“{name}” of an entry “{kind}” cannot be {value!r}")
    try:
        return known(**values)
    except TypeError as error:
        raise BadEntry(f"an entry “{kind}” lacks something") from error


def _fits(value: object, wanted: Any) -> bool:
    if wanted is bool or isinstance(value, bool):
        return wanted is bool and isinstance(value, bool)
    if wanted is list:
        return isinstance(value, list) and all(_is_inside(one) for one in value)
    if wanted in (int, float):
        is_number = isinstance(value, int if wanted is int else (int, float))
        return is_number and _is_inside(value)
    return isinstance(value, wanted)


def _is_inside(value: object) -> bool:
    """Return whether a number is one that can be kept; texts and rows of a list are looked at."""
    if isinstance(value, bool):
        return False
    if isinstance(value, int | float):
        return 0 <= value < (MOST if isinstance(value, int) else inf)
    if isinstance(value, list):
        return all(map(_is_inside, value))
    return isinstance(value, str)
