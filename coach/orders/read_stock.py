"""The reader of a stock list: cord, beads and rings by label.

What it says becomes desk events, added to what is there or replacing it.
"""

import re
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass
from decimal import Decimal
from typing import Any, Final

from coach.orders.desk_events import StockAdded, StockCounted, StockEvent
from coach.orders.read_prices import cord_price
from coach.quantities import QuantityError, cord_amount, fineness_tex, mass_g
from coach.text import one_line
from coach.yaml_reader.collector import ReadingProblems, limited, quoted
from coach.yaml_reader.declarations import Keys, Schema, Value, may
from coach.yaml_reader.diagnostics import Problem
from coach.yaml_reader.mapping_reader import Fields
from coach.yaml_reader.mapping_schema import OWN_NAME, by_name, mapping
from coach.yaml_reader.nodes import Mapping, Node, Scalar, Sequence, parse
from coach.yaml_reader.scalars import word
from coach.yaml_reader.value_schemas import pattern_schema

MOST_NUMBER: Final = 100_000
LONGEST_NAME: Final = 60
_FINE: Final = Decimal("0.0001")  # what one costs of some that are sold together
_EACH: Final = re.compile(
    r"([0-9]{1,9}(?:\.[0-9]{1,4})?)(?:\s*(?:per|/)\s*([0-9]{1,5}))?(?:\s+each)?"
)
_HANKS: Final = "as in ‘100 m’, ‘500 g’ or ‘[100 m, 4.5 m]’"


@dataclass(frozen=True, slots=True)
class StockEntry:
    """One item on the list; `number` is None for cord. Lengths in mm, fineness in tex or 0."""

    what: str
    lengths_mm: tuple[float, ...] = ()
    grams: float = 0.0
    number: int | None = None
    fineness_tex: float = 0.0
    price: str = ""


@dataclass(frozen=True, slots=True)
class StockReading:
    """The items of a stock list, and its problems."""

    things: tuple[StockEntry, ...]
    problems: tuple[Problem, ...]


def read_stock(text: str) -> StockReading:
    """Read the text of a stock list; never raises because of what it says."""
    found = ReadingProblems()
    root = parse(text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n"), found)
    things: tuple[StockEntry, ...] = ()
    if isinstance(root, Mapping):
        fields = Fields(root, found, "the list of stock")
        given = fields.given(KEYS)
        fields.finish()
        things = (*given.get("cords", ()), *given.get("findings", ()))
    elif root is not None and not (isinstance(root, Scalar) and not root.text):
        hint = "Write cords: and findings:, and below them a label, a colon and how much."
        found.error("SHAPE", root.span, "This is not a list of stock.", hint)
    return StockReading(things, limited(found.sorted()))


def stock_schema() -> dict[str, Any]:
    """Return the JSON Schema of a stock list, for editors."""
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "Cord, beads and rings in stock",
        **mapping(KEYS.values()),
    }


def stock_events(thing: StockEntry, at_ms: int, *, counted: bool) -> Iterator[StockEvent]:
    """Yield the desk events for a line of a stock list.

    Args:
        thing: What the line says.
        at_ms: When, in UTC epoch milliseconds.
        counted: Whether the amount is all there is, rather than what came in.
    """
    by_number = thing.number is not None
    lengths, number = list(thing.lengths_mm), thing.number or 0
    if not counted or thing.fineness_tex or thing.price:
        yield StockAdded(
            at_ms=at_ms, what=thing.what, lengths_mm=[] if counted else lengths,
            grams=0.0 if counted else thing.grams, count=0 if counted else number,
            by_number=by_number, fineness_tex=thing.fineness_tex, price=thing.price,
        )  # fmt: skip
    if counted:
        yield StockCounted(
            at_ms=at_ms, what=thing.what, lengths_mm=lengths, grams=thing.grams, count=number
        )


def price_each(text: str) -> str | None:
    """Return the price of one from `0.20` or `2 per 10`, as a decimal; None if it is no price."""
    found = _EACH.fullmatch(text.strip())
    if not found or (found[2] and not int(found[2])):
        return None
    each = Decimal(found[1]) / int(found[2] or 1)
    return str(each if each == each.quantize(_FINE) else each.quantize(_FINE))


def weight_tex(text: str) -> float:
    """Return a cord's fineness in tex; a weight alone is per metre. Raises QuantityError."""
    with suppress(QuantityError):
        text = f"{mass_g(text):.9f} g/m"
    return fineness_tex(text)


def _amounts(node: Node, found: ReadingProblems) -> tuple[tuple[float, ...], float] | None:
    """Read hanks, by length or by weight: lengths in mm, and grams in all."""
    items = node.items if isinstance(node, Sequence) else (node,)
    lengths, grams, faulty = list[float](), 0.0, False
    for item in items:
        scalar = word(item, found, f"how much there is, {_HANKS}")
        for part in scalar.text.split(",") if scalar else ():
            try:
                amount = cord_amount(part.strip())
            except QuantityError as fault:
                hint = fault.hint or f"Write it {_HANKS}."
                found.error("QUANTITY", item.span, f"{quoted(part.strip())}: {fault.message}", hint)
                faulty = True
                continue
            lengths += [] if amount.by_weight else [amount.size]
            grams += amount.size if amount.by_weight else 0.0
        faulty |= scalar is None
    return None if faulty else (tuple(lengths), grams)


def _number(node: Node, found: ReadingProblems) -> int | None:
    scalar = word(node, found, "a number, as in ‘40’")
    if scalar is None:
        return None
    text = scalar.text.strip()
    if text.isascii() and text.isdecimal() and len(text) < 10 and int(text) <= MOST_NUMBER:  # noqa: PLR2004 - more is too many
        return int(text)
    message = f"{quoted(scalar.text)} is not a whole number up to {MOST_NUMBER:,}."
    found.error("NUMBER", scalar.span, message, "Write how many there are, as in ‘40’.")
    return None


def _weighs(node: Node, found: ReadingProblems) -> float | None:
    scalar = word(node, found, "what the cord weighs")
    if scalar is None:
        return None
    try:
        return weight_tex(scalar.text.strip())
    except QuantityError as fault:
        hint = "Write it as in ‘4 g/m’, ‘1200 tex’, ‘250 m per kg’, or of one metre: ‘4.2 g’."
        found.error("QUANTITY", scalar.span, f"{quoted(scalar.text)}: {fault.message}", hint)
        return None


def _cord_price(node: Node, found: ReadingProblems) -> str | None:
    scalar = word(node, found, "a price")
    if scalar is None or cord_price(scalar.text.strip()):
        return one_line(scalar.text) if scalar else None
    message = f"{quoted(scalar.text)} is not a price for a length or a weight."
    found.error("PRICE", scalar.span, message, "Write it as in ‘14 per 500 g’ or ‘0.35 per m’.")
    return None


def _price_each(node: Node, found: ReadingProblems) -> str | None:
    scalar = word(node, found, "a price")
    each = price_each(scalar.text) if scalar else None
    if scalar and each is None:
        message = f"{quoted(scalar.text)} is not what one costs."
        found.error("PRICE", scalar.span, message, "Write it as in ‘0.20’ or ‘2 per 10’.")
    return each


def _cord(what: str, node: Node, found: ReadingProblems) -> StockEntry | None:
    if not isinstance(node, Mapping):
        much = _amounts(node, found)
        return StockEntry(what, *much) if much else None
    fields = Fields(node, found, "this cord")
    given = fields.given(_CORD)
    fields.finish()
    lengths, grams = given.get("hanks", ((), 0.0))
    tex, price = given.get("weighs", 0.0), given.get("price", "")
    return StockEntry(what, lengths, grams, fineness_tex=tex, price=price)


def _finding(what: str, node: Node, found: ReadingProblems) -> StockEntry | None:
    if not isinstance(node, Mapping):
        number = _number(node, found)
        return None if number is None else StockEntry(what, number=number)
    fields = Fields(node, found, "this finding")
    given = fields.given(_FINDING)
    fields.finish()
    return StockEntry(what, number=given.get("number", 0), price=given.get("price", ""))


def _things(node: Node, found: ReadingProblems, *, cords: bool) -> tuple[StockEntry, ...] | None:
    """Read labels with the amount of each."""
    if not isinstance(node, Mapping):
        hint = "Write it as in ‘clay cotton 2 mm: 100 m’." if cords else "As in ‘8 mm bead: 40’."
        found.error("SHAPE", node.span, "This needs labels with how much there is.", hint)
        return None
    things = list[StockEntry]()
    for key, value in node.pairs:
        what = one_line(key.text)
        if not what or len(what) > LONGEST_NAME:
            message = f"A label has 1 to {LONGEST_NAME} letters; this one has {len(what)}."
            found.error("NAME", key.span, message, "Write it as on the shelf: clay cotton 2 mm.")
        thing = (_cord if cords else _finding)(what, value, found)
        things += [thing] if thing else []
    return tuple(things)


_MOST: Final = {"type": "string", "minLength": 1}
_LIST: Final[Schema] = {"anyOf": [_MOST, {"type": "array", "items": _MOST}]}
_NUMBER: Final[Schema] = pattern_schema(r"\s*[0-9]{1,6}\s*")
_CORD: Final[Keys] = {
    "hanks": may("hanks", Value(_amounts, ((), 0.0), _LIST), f"Hanks and remnants, {_HANKS}."),
    "weighs": may("weighs", Value(_weighs, 0.0, _MOST), "What it weighs for its length: 4 g/m."),
    "price": may("price", Value(_cord_price, "", _MOST), "What it cost: 14 per 500 g."),
}
_FINDING: Final[Keys] = {
    "number": may("number", Value(_number, 0, _NUMBER), "How many there are."),
    "price": may("price", Value(_price_each, "", _MOST), "What one cost, or some: 2 per 10."),
}


def _cords(node: Node, found: ReadingProblems) -> tuple[StockEntry, ...] | None:
    return _things(node, found, cords=True)


def _findings(node: Node, found: ReadingProblems) -> tuple[StockEntry, ...] | None:
    return _things(node, found, cords=False)


def _by_label(short: Schema, keys: Keys) -> dict[str, Any]:
    return by_name({"anyOf": [short, mapping(keys.values())]}, OWN_NAME, 0)


KEYS: Final[Keys] = {
    "cords": may(
        "cords",
        Value(_cords, (), _by_label(_LIST, _CORD)),
        f"Cord by its label, with how much there is, {_HANKS}, or with hanks, weighs and price.",
    ),
    "findings": may(
        "findings",
        Value(_findings, (), _by_label(_NUMBER, _FINDING)),
        "Beads, rings and the like by their labels: how many, or number and price.",
    ),
}
"""The keys of a list of stock."""
