"""What an order took and earned compared with its quote, and the real hourly rate."""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal, InvalidOperation
from typing import Any


@dataclass(frozen=True, slots=True)
class CordUsed:
    """The cord used, by label: what was cut, and what the sound pieces were quoted with.

    `money` is the cost of what was cut, None where its price is not known.
    """

    what: str
    cut_mm: float
    quoted_mm: float
    money: Decimal | None


@dataclass(frozen=True, slots=True)
class Material:
    """The material used for an order, with spoilt pieces and lengths that were cut again."""

    cords: tuple[CordUsed, ...]
    findings: Decimal | None
    extras: Decimal

    @property
    def money(self) -> Decimal | None:
        """Its total cost, None where a price is not known."""
        parts = [self.findings, self.extras, *(cord.money for cord in self.cords)]
        known = [part for part in parts if part is not None]
        return sum(known, Decimal(0)) if len(known) == len(parts) else None

    def to_data(self) -> dict[str, Any]:
        """Return it as plain data for the store; money is a decimal in a text, "" if unknown."""
        return {
            "cords": [
                {"what": one.what, "cut_mm": one.cut_mm, "quoted_mm": one.quoted_mm,
                 "money": _text(one.money)}
                for one in self.cords
            ],
            "findings": _text(self.findings),
            "extras": _text(self.extras),
        }  # fmt: skip

    @classmethod
    def from_data(cls, data: Mapping[str, Any]) -> "Material | None":
        """Return the material that `to_data` made this from, None if it cannot be read."""
        try:
            cords = tuple(
                CordUsed(str(one["what"]), float(one["cut_mm"]), float(one["quoted_mm"]),
                         _decimal(one["money"]))
                for one in data["cords"]
            )  # fmt: skip
            findings, extras = _decimal(data["findings"]), _decimal(data["extras"]) or Decimal(0)
        except (KeyError, TypeError, ValueError):
            return None
        return cls(cords, findings, extras)


def _text(money: Decimal | None) -> str:
    return "" if money is None else f"{money:f}"


@dataclass(frozen=True, slots=True)
class OrderOutcome:
    """An order looked back on; unknown figures are None.

    `pieces` were made and `spoilt` ones besides. Hours are those worked on all of them,
    `quoted_hours` what as many pieces were quoted with. `material` is the cost of all material
    used, `quoted_material` that quoted for as many pieces, `cords` how much of each cord was cut.
    `rate` is earnings per hour after material and overhead.
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
    quoted_material: Decimal | None = None
    cords: tuple[CordUsed, ...] = ()


def order_outcome(
    quote: Mapping[str, Any], pieces: int, spoilt: int, worked_s: float, earned: str,
    *, used: Material | None = None, given_up: bool = False,
) -> OrderOutcome:  # fmt: skip
    """Compare what an order took and earned with its quote.

    Args:
        quote: The quote as stored, see `coach.orders.quote_data.quote_json`.
        pieces: How many are made.
        spoilt: How many more were begun and given up.
        worked_s: The seconds worked on all of them.
        earned: What it brought, as a decimal number; "" takes the price quoted for these pieces.
        used: The material used; None takes what was quoted for all pieces.
        given_up: Whether it was given up: then earnings are unknown unless stated.
    """
    copies = int(_figure(quote, "copies") or 0)
    quoted = _shared(_figure(quote, "price", "total"), pieces, copies)
    got = _decimal(earned) if earned else None if given_up else quoted
    hours = Decimal(repr(worked_s)) / 3600
    material = used.money if used else _for(quote, copies, pieces + spoilt, "material")
    overhead = _for(quote, copies, pieces, "overhead") or Decimal(0)
    known = got is not None and material is not None and hours > 0
    rate = (got - material - overhead) / hours if known and got and material is not None else None
    quoted_hours = _shared(_figure(quote, "hours", "likely"), pieces, copies)
    return OrderOutcome(
        pieces=pieces,
        spoilt=spoilt,
        hours=float(hours),
        quoted_hours=None if quoted_hours is None else float(quoted_hours),
        earned=got,
        quoted=quoted,
        material=material,
        rate=rate,
        currency=_currency(quote),
        quoted_material=_for(quote, copies, pieces, "material"),
        cords=used.cords if used else (),
    )


def outcome_json(told: OrderOutcome) -> dict[str, Any]:
    """Return it as JSON for other programs; money to the cent, time in hours."""
    return {
        "pieces": told.pieces,
        "spoilt": told.spoilt,
        "hours": round(told.hours, 2),
        "quoted_hours": None if told.quoted_hours is None else round(told.quoted_hours, 2),
        "earned": _cents(told.earned),
        "quoted": _cents(told.quoted),
        "material": _cents(told.material),
        "quoted_material": _cents(told.quoted_material),
        "cords": [
            {"what": one.what, "cut_mm": round(one.cut_mm, 1),
             "quoted_mm": round(one.quoted_mm, 1), "money": _cents(one.money)}
            for one in told.cords
        ],
        "rate": _cents(told.rate),
        "currency": told.currency,
    }  # fmt: skip


def extras_for(quote: Mapping[str, Any], pieces: int) -> Decimal:
    """Return the extras quoted for a number of pieces, 0 if none are in the quote."""
    copies = int(_figure(quote, "copies") or 0)
    return _for(quote, copies, pieces, "extras") or Decimal(0)


def _cents(amount: Decimal | None) -> float | None:
    return None if amount is None else float(round(amount, 2))


def _for(quote: Mapping[str, Any], copies: int, pieces: int, part: str) -> Decimal | None:
    """Return a part of the quoted cost for a number of pieces."""
    return _shared(_figure(quote, "cost", part), pieces, copies)


def _shared(whole: Decimal | None, pieces: int, copies: int) -> Decimal | None:
    """Return the share of a number of pieces in what is stated for all copies."""
    return whole * pieces / copies if whole is not None and copies else None


def _figure(quote: Mapping[str, Any], *keys: str) -> Decimal | None:
    """Return a figure of a stored quote, None if it is missing."""
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
