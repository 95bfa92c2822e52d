"""The reader of `prices.yaml`, with every problem in its place."""

import re
from collections.abc import Callable, Mapping
from contextlib import suppress
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from types import MappingProxyType
from typing import Any, Final, TypeVar

from coach.orders.prices import CordPrice, Overhead, Prices, Rounding
from coach.orders.working_week import DAYS, DaysOff, Week
from coach.quantities import QuantityError, cord_amount, share
from coach.text import normalized_name, one_line
from coach.yaml_reader.collector import ReadingProblems, limited, quoted
from coach.yaml_reader.declarations import Keys, Schema, Value, may
from coach.yaml_reader.diagnostics import Problem, Span
from coach.yaml_reader.mapping_reader import Fields
from coach.yaml_reader.mapping_schema import OWN_NAME, by_name, mapping
from coach.yaml_reader.nodes import Mapping as Tree
from coach.yaml_reader.nodes import Node, Scalar, Sequence, parse
from coach.yaml_reader.scalars import TEXT, TIME, word
from coach.yaml_reader.value_schemas import TIME as TIME_SCHEMA
from coach.yaml_reader.value_schemas import list_schema, pattern_schema

T = TypeVar("T")

FILE: Final = "prices.yaml"
_FIGURE: Final = r"[0-9]{1,9}(?:\.[0-9]{1,4})?"
_MONEY: Final = re.compile(_FIGURE)
_PER: Final = re.compile(rf"({_FIGURE})\s*(?:per|/)\s*(?:(?:a\s+)?(?:hank|ball|cone) of\s+)?(.+)")
_UP: Final = re.compile(rf"({_FIGURE})(\s+up)?")
_DAY: Final = r"[0-9]{4}-[0-9]{2}-[0-9]{2}"
_DAYS: Final = re.compile(rf"({_DAY})(?:\s+to\s+({_DAY}))?")
_NAMES: Final = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
_LONGEST_DAY_S: Final = 24 * 3600.0


@dataclass(frozen=True, slots=True)
class PricesReading:
    """Prices read from a file, unknown where it is wrong, and the problems."""

    prices: Prices
    problems: tuple[Problem, ...]


def read_prices(text: str) -> PricesReading:
    """Read the text of a file of prices; never raises because of what it says."""
    found = ReadingProblems()
    root = parse(text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n"), found)
    prices = Prices()
    if isinstance(root, Tree):
        prices = _prices(Fields(root, found, "the list of prices"))
    elif root is not None and not (isinstance(root, Scalar) and not root.text):
        hint = "Write a name, a colon and a price, as in ‘hour: 12’."
        found.error("SHAPE", root.span, "This is not a list of prices.", hint)
    return PricesReading(prices, limited(found.sorted()))


def prices_schema() -> dict[str, Any]:
    """Return the JSON Schema of a file of prices, for editors."""
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "A maker's prices and hours",
        **mapping(KEYS.values()),
    }


def _prices(fields: Fields) -> Prices:
    given = fields.given(KEYS)
    fields.finish()
    week, off = given.pop("week", None), given.pop("off", ())
    week = Week(week.seconds, off) if week else None
    return Prices(week=week, **given)


def _money(node: Node, found: ReadingProblems) -> Decimal | None:
    scalar = word(node, found, "an amount of money")
    if scalar is None:
        return None
    if _MONEY.fullmatch(scalar.text.strip()):
        return Decimal(scalar.text.strip())
    message = f"{quoted(scalar.text)} is not an amount of money."
    found.error("MONEY", scalar.span, message, "Write it as in ‘12.50’.")
    return None


def _cord_price(node: Node, found: ReadingProblems) -> CordPrice | None:
    scalar = word(node, found, "a price")
    if scalar is None:
        return None
    written = _PER.fullmatch(scalar.text.strip())
    if written:
        bare = written[2][:1].isalpha()
        with suppress(QuantityError):
            amount = cord_amount(f"1 {written[2]}" if bare else written[2])
            return CordPrice(Decimal(written[1]), amount, in_hanks=not bare)
    message = f"{quoted(scalar.text)} is not a price for a length or a weight."
    hint = "Write it as in ‘0.35 per m’, ‘14 per kg’ or ‘9 per 50 m’."
    found.error("PRICE", scalar.span, message, hint)
    return None


def cord_price(text: str) -> CordPrice | None:
    """Return a price such as `14 per 500 g`, None if the text is not one."""
    found = ReadingProblems()
    return _cord_price(Scalar(Span(), text), found)


def _overhead(node: Node, found: ReadingProblems) -> Overhead | None:
    if isinstance(node, Scalar) and node.text.strip().endswith("%"):
        part = _share(node, found)
        return None if part is None else Overhead(share=part)
    each = _money(node, found)
    return None if each is None else Overhead(each=each)


def _share(node: Node, found: ReadingProblems) -> Decimal | None:
    scalar = word(node, found, "a share")
    if scalar is None:
        return None
    try:
        return Decimal(repr(share(scalar.text)))
    except QuantityError as fault:
        found.error("QUANTITY", scalar.span, f"{quoted(scalar.text)}: {fault.message}", fault.hint)
        return None


def _rounding(node: Node, found: ReadingProblems) -> Rounding | None:
    scalar = word(node, found, "what prices are rounded to")
    if scalar is None:
        return None
    written = _UP.fullmatch(scalar.text.strip())
    if written and Decimal(written[1]):
        return Rounding(Decimal(written[1]), up=bool(written[2]))
    message = f"{quoted(scalar.text)} is not an amount that prices can be rounded to."
    found.error("MONEY", scalar.span, message, "Write it as in ‘0.50’, or ‘0.50 up’.")
    return None


def _by_name(
    value: Value[T], example: str
) -> Callable[[Node, ReadingProblems], Mapping[str, T] | None]:
    """Return a reader of a mapping from names, compared without case and spacing, to values."""

    def reader(node: Node, found: ReadingProblems) -> Mapping[str, T] | None:
        if not isinstance(node, Tree):
            message = "This needs names with prices."
            found.error("SHAPE", node.span, message, f"Write it as in ‘{example}’.")
            return None
        read = [(one_line(k.text).casefold(), value.read(v, found)) for k, v in node.pairs]
        return MappingProxyType({name: price for name, price in read if price is not None})

    return reader


def _week(node: Node, found: ReadingProblems) -> Week | None:
    example = "Write it as in ‘{mon: 1 h, sat: 3 h}’."
    if not isinstance(node, Tree):
        found.error("SHAPE", node.span, "Give the hours for each day.", example)
        return None
    seconds, faulty = [0.0] * len(DAYS), False
    for key, value in node.pairs:
        name = normalized_name(key.text)
        number = next((n for n, day in enumerate(_NAMES) if name in (day, day[:3])), None)
        if number is None:
            hint = found.suggest(name, (*DAYS, *_NAMES), example)
            found.error("CHOICE", key.span, f"{quoted(key.text)} is not a day of the week.", hint)
            faulty = True
            continue
        worked = TIME.read(value, found)
        if worked is not None and worked > _LONGEST_DAY_S:
            found.error("QUANTITY", value.span, "A day has 24 hours.", example)
        faulty |= worked is None or worked > _LONGEST_DAY_S
        seconds[number] = worked or 0.0
    if not any(seconds) and not faulty:
        message = "A week without hours never gets anything ready."
        found.error("EMPTY", node.span, message, example)
    return Week(tuple(seconds)) if any(seconds) and not faulty else None


def _days_off(node: Node, found: ReadingProblems) -> tuple[DaysOff, ...] | None:
    items = node.items if isinstance(node, Sequence) else (node,)
    read = [_days(item, found) for item in items]
    return tuple(days for days in read if days) if all(read) else None


def _days(node: Node, found: ReadingProblems) -> DaysOff | None:
    scalar = word(node, found, "a date")
    if scalar is None:
        return None
    written = _DAYS.fullmatch(scalar.text.strip())
    with suppress(ValueError):
        if written:
            first = date.fromisoformat(written[1])
            last = date.fromisoformat(written[2] or written[1])
            if first <= last:
                return DaysOff(first, last)
    message = f"{quoted(scalar.text)} is not a date, or its end comes before its beginning."
    hint = "Write it as in ‘2031-05-04’ or ‘2031-05-04 to 2031-05-11’."
    found.error("DATE", scalar.span, message, hint)
    return None


def _pattern(inside: str) -> Schema:
    return {"anyOf": [{"type": "number", "minimum": 0}, pattern_schema(rf"\s*{inside}\s*")]}


_MONEY_SCHEMA: Final = _pattern(_FIGURE)
_PRICE_SCHEMA: Final = pattern_schema(rf"\s*{_FIGURE}\s*(?:per|/)\s*\S.*")
_SHARE_SCHEMA: Final = pattern_schema(r"\s*[0-9.]+\s*%\s*")
MONEY: Final = Value(_money, Decimal(0), _MONEY_SCHEMA)
CORD_PRICE: Final[Value[CordPrice | None]] = Value(_cord_price, None, _PRICE_SCHEMA)


def _named(value: Value[T], example: str) -> Value[Mapping[str, T]]:
    return Value(_by_name(value, example), MappingProxyType({}), by_name(value.schema, OWN_NAME, 0))


def _over(schema: Schema) -> Schema:
    return {"anyOf": [_MONEY_SCHEMA, schema]}


KEYS: Final[Keys] = {
    "currency": may("currency", TEXT, "How money is written, such as €."),
    "hour": may("hour", Value(_money, None, _MONEY_SCHEMA), "What an hour of work is worth.", "12"),
    "cords": may(
        "cords",
        _named(CORD_PRICE, "reed: 0.35 per m"),
        "Cord by its name in projects, or by fibre and thickness (cotton 2 mm): `0.35 per m` and "
        "`14 per kg` are cut or weighed off, `9 per 50 m` and `7 per 500 g` are whole hanks.",
    ),
    "findings": may(
        "findings",
        _named(MONEY, "25 mm split ring: 0.20"),
        "Beads, rings and the like, each, by their names in projects.",
    ),
    "extras": may(
        "extras", _named(MONEY, "tag: 0.15"), "What else goes with each piece: tag, box."
    ),
    "overhead": may(
        "overhead",
        Value(_overhead, Overhead(), _over(_SHARE_SCHEMA)),
        "Stall, tools, light: a share of material and work, or so much money a piece.",
    ),
    "margin": may(
        "margin",
        Value(_share, Decimal(0), _SHARE_SCHEMA),
        "The share added to what a piece costs you.",
    ),
    "rounding": may(
        "rounding",
        Value(_rounding, Rounding(), _pattern(rf"{_FIGURE}(?:\s+up)?")),
        "What prices are rounded to: `0.50` to the nearest, `0.50 up` to the next.",
    ),
    "between_s": may(
        "between", TIME, "Taking a finished piece off and setting the next one up: 5 min."
    ),
    "week": may(
        "hours",
        Value(
            _week,
            None,
            {
                "type": "object",
                "properties": dict.fromkeys((*DAYS, *_NAMES), TIME_SCHEMA),
                "additionalProperties": False,
                "minProperties": 1,
            },
        ),
        "Your hours on each day: {mon: 1 h, sat: 3 h}.",
    ),
    "off": may(
        "days off",
        Value(_days_off, (), list_schema(pattern_schema(rf"\s*{_DAY}(?:\s+to\s+{_DAY})?\s*"))),
        "Days on which nothing is worked: [2031-05-04, 2031-08-01 to 2031-08-14].",
    ),
}
"""The keys of a file of prices, by the fields that they make."""
