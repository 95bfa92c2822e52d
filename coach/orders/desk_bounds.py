"""Validation of desk events before they are stored, imported or folded.

It is to stock and orders what `coach.piece.event_bounds` is to counts: what passes can be read
back, added up and shown.
"""

import json
from collections.abc import Iterator, Mapping
from decimal import Decimal, InvalidOperation
from types import MappingProxyType
from typing import Any, Final

from coach.kept_events import MOST, BadEntry
from coach.orders.desk_events import DESK_EVENTS, DeskEvent, StockAdded
from coach.orders.read_prices import cord_price
from coach.quantities.parse import COARSEST_TEX, FINEST_TEX, LONGEST_LENGTH_MM
from coach.text import one_line

MOST_OF: Final[Mapping[str, float]] = MappingProxyType({
    "at_ms": MOST, "count": 10**6, "grams": 10**7, "fineness_tex": COARSEST_TEX,
    **dict.fromkeys(("lengths_mm", "piece_mm", "from_mm"), LONGEST_LENGTH_MM),
    "length_mm": 10 * LONGEST_LENGTH_MM,  # several lengths are taken at once
})  # fmt: skip
"""The most that each figure of an entry can be, by its field; none is less than 0."""

NAMES: Final = ("what", "order", "piece", "label")
"""The fields that others are found by: one line, and never empty where an entry is of them."""
_MAY_LACK: Final = (("stock cut", "piece"), ("stock cut", "label"), ("stock put back", "piece"),
                    ("stock put back", "label"))  # fmt: skip

_MOST_HANKS: Final = 1_000
_MOST_LETTERS: Final[Mapping[str, int]] = MappingProxyType({"source": 10_000})
_LETTERS: Final = 1_000  # of every other text
_MOST_QUOTE: Final = 2**20  # letters, as JSON
_DEEPEST: Final = 12
_MOST_MONEY: Final = 10**12

MOST_ENTRIES: Final = 100_000
"""Entries that a desk can have."""


def checked_desk_event(event: DeskEvent) -> DeskEvent:
    """Return a desk event if it is valid; imported ones are checked here too.

    Raises:
        BadEntry: A figure, a text, a price or a quote is out of range, or it cannot be read back.
    """
    DESK_EVENTS.read(event.kind, event.values())
    for name, value in event.values().items():
        why = _wrong(event.kind, name, value)
        if why:
            raise BadEntry(f"‘{name}’ of an entry ‘{event.kind}’ {why}")
    if isinstance(event, StockAdded) and not _is_price(event.price, by_number=event.by_number):
        raise BadEntry(
            f"‘price’ of an entry ‘{event.kind}’ cannot be ‘{one_line(event.price[:40])}’"
        )
    return event


def desk_event_passes(event: DeskEvent) -> bool:
    """Return whether a desk event is valid, so that it may be folded."""
    try:
        checked_desk_event(event)
    except BadEntry:
        return False
    return True


def _wrong(kind: str, name: str, value: Any) -> str:
    """Return what is wrong with a field, "" for nothing."""
    if isinstance(value, bool):
        return ""
    if isinstance(value, int | float):
        return _wrong_figure(name, value)
    if isinstance(value, list):
        found = (_wrong_figure(name, mm) for mm in value)
        many = "has too many lengths" if len(value) > _MOST_HANKS else ""
        return many or next(filter(None, found), "")
    if isinstance(value, str):
        return _wrong_text(kind, name, value)
    return _wrong_quote(value)


def _wrong_figure(name: str, value: object) -> str:
    if isinstance(value, bool) or not isinstance(value, int | float):
        return f"cannot be {value!r:.40}"
    if not 0 <= value <= MOST_OF[name]:
        return f"cannot be over {MOST_OF[name]:g}"
    fine = name == "fineness_tex" and 0 < value < FINEST_TEX
    return f"cannot be under {FINEST_TEX}" if fine else ""


def _wrong_text(kind: str, name: str, value: str) -> str:
    if len(value) > _MOST_LETTERS.get(name, _LETTERS):
        return f"is too long: {len(value)} letters"
    if name in NAMES and one_line(value) != value:
        return "cannot be several lines, or hold signs that are not seen"
    if name in NAMES and not value and (kind, name) not in _MAY_LACK:
        return "cannot be empty"
    if name == "earned" and value and not _is_money(value):
        return f"cannot be ‘{one_line(value[:40])}’"
    return ""


def _wrong_quote(value: object) -> str:
    """Return what is wrong with an object: its depth, its length, or one of its numbers."""
    try:
        long = len(json.dumps(value, allow_nan=False)) > _MOST_QUOTE
    except (TypeError, ValueError, RecursionError):
        return "is not JSON"
    if long:
        return "is too long"
    return next(filter(None, _wrong_inside(value, _DEEPEST)), "")


def _wrong_inside(value: object, deep: int) -> Iterator[str]:
    if isinstance(value, Mapping | list):
        if not deep:
            yield "is too deep"
            return
        for one in value.values() if isinstance(value, Mapping) else value:
            yield from _wrong_inside(one, deep - 1)
    elif isinstance(value, int | float) and not -_MOST_MONEY <= value <= _MOST_MONEY:
        yield f"cannot hold {value!r:.40}"


def _is_price(text: str, *, by_number: bool) -> bool:
    return not text or (_is_money(text) if by_number else cord_price(text) is not None)


def _is_money(text: str) -> bool:
    try:
        found = Decimal(text)
    except InvalidOperation:
        return False
    return found.is_finite() and 0 <= found <= _MOST_MONEY
