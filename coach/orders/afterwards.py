"""What an order took and earned against its quote, and the maker's rate as it really was."""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal, InvalidOperation
from typing import Any


@dataclass(frozen=True, slots=True)
class Afterwards:
    """An order looked back on; what is not known is None.

    `pieces` were made and `spoilt` ones beside them. Hours are those worked on all of them,
    `quoted_hours` those that so many pieces were quoted with. `rate` is what an hour has brought:
    what was earned without the material of all pieces, spoilt ones too, and without the overhead.
    """

    pieces: int
    spoilt: int
    hours: float
    quoted_hours: float | None
    earned: Decimal | None
    quoted: Decimal | None
    material: Decimal | None
    rate: Decimal | None
    currency: str


def look_back(
    quote: Mapping[str, Any], pieces: int, spoilt: int, worked_s: float, earned: str
) -> Afterwards:
    """Return what an order took and earned.

    Args:
        quote: As it was quoted, see `coach.orders.quote_data.as_object`.
        pieces: How many are made.
        spoilt: How many more were begun and given up.
        worked_s: The seconds worked on all of them.
        earned: What it brought, as a decimal number; "" takes what was quoted for these pieces.
    """
    copies = int(_figure(quote, "copies") or 0)
    share = Decimal(pieces) / copies if copies else None
    total = _figure(quote, "price", "total")
    quoted = total * share if total is not None and share is not None else None
    got = _decimal(earned) if earned else quoted
    hours = Decimal(repr(worked_s)) / 3600
    material = _for(quote, copies, pieces + spoilt, "material")
    overhead = _for(quote, copies, pieces, "overhead") or Decimal(0)
    known = got is not None and material is not None and hours > 0
    rate = (got - material - overhead) / hours if known and got and material is not None else None
    likely = _figure(quote, "hours", "likely")
    return Afterwards(
        pieces=pieces,
        spoilt=spoilt,
        hours=float(hours),
        quoted_hours=float(likely * share) if likely is not None and share is not None else None,
        earned=got,
        quoted=quoted,
        material=material,
        rate=rate,
        currency=_currency(quote),
    )


def afterwards_object(told: Afterwards) -> dict[str, Any]:
    """Return it for other programs; money to the cent, hours in hours."""
    return {
        "pieces": told.pieces,
        "spoilt": told.spoilt,
        "hours": round(told.hours, 2),
        "quoted_hours": None if told.quoted_hours is None else round(told.quoted_hours, 2),
        "earned": _cents(told.earned),
        "quoted": _cents(told.quoted),
        "material": _cents(told.material),
        "rate": _cents(told.rate),
        "currency": told.currency,
    }


def _cents(amount: Decimal | None) -> float | None:
    return None if amount is None else float(round(amount, 2))


def _for(quote: Mapping[str, Any], copies: int, pieces: int, part: str) -> Decimal | None:
    """Return a part of the quoted cost for so many pieces."""
    whole = _figure(quote, "cost", part)
    return whole * pieces / copies if whole is not None and copies else None


def _figure(quote: Mapping[str, Any], *keys: str) -> Decimal | None:
    """Return a figure of a kept quote, None where it is not there."""
    found: object = quote
    for key in keys:
        found = found.get(key) if isinstance(found, Mapping) else None
    if isinstance(found, bool) or not isinstance(found, int | float):
        return None
    return _decimal(repr(found))


def _currency(quote: Mapping[str, Any]) -> str:
    price = quote.get("price")
    said = price.get("currency") if isinstance(price, Mapping) else ""
    return said if isinstance(said, str) else ""


def _decimal(text: str) -> Decimal | None:
    try:
        found = Decimal(text)
    except InvalidOperation:
        return None
    return found if found.is_finite() else None
