"""What cord, hours and findings cost, as the maker has written it down."""

import re
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass, field
from typing import Final

import yaml

from coach.quantities import CordAmount, QuantityError, cord_amount
from coach.text import one_line

NAME: Final = "prices.yaml"
_MOST_TEXT: Final = 2**16
_PER: Final = re.compile(r"(?P<price>\d{1,9}(?:\.\d{1,4})?)\s*(?:per|/)\s*(?P<amount>.+)")
_MONEY: Final = re.compile(r"\d{1,9}(?:\.\d{1,4})?")
_KEYS: Final = ("currency", "hour", "cords", "findings")


class BadPrices(Exception):
    """The prices cannot be read; the text says where and what would be right."""


@dataclass(frozen=True, slots=True)
class CordPrice:
    """What a length or a weight of cord costs."""

    money: float
    amount: CordAmount

    def per_mm(self, fineness_tex: float | None) -> float | None:
        """Return what a mm costs; None by weight, where nobody says what the cord weighs."""
        length_mm = self.amount.length_mm(fineness_tex)
        return None if length_mm is None else self.money / length_mm


@dataclass(frozen=True, slots=True)
class Prices:
    """Prices in one currency: an hour's work, cords by name or kind, findings by name.

    A cord is named as in its project (`reed`) or by fibre and diameter (`cotton 2 mm`).
    """

    currency: str = ""
    hour: float | None = None
    cords: Mapping[str, CordPrice] = field(default_factory=dict)
    findings: Mapping[str, float] = field(default_factory=dict)

    def of_cord(self, name: str, fibre: str, diameter_mm: float) -> CordPrice | None:
        """Return what a cord costs, by its name or else by its kind; None if unknown."""
        kind = f"{fibre} {diameter_mm:g} mm".lstrip()
        return self.cords.get(name.casefold(), self.cords.get(kind.casefold()))


def read_prices(text: str) -> Prices:
    """Read the maker's prices.

    Raises:
        BadPrices: The text is no such file, or a price in it cannot be read.
    """
    if len(text) > _MOST_TEXT:
        raise BadPrices("it is too long for a list of prices")
    try:
        data = yaml.load(text, Loader=yaml.BaseLoader)  # noqa: S506 - gives texts, lists and mappings only
    except (yaml.YAMLError, RecursionError) as error:
        mark = getattr(error, "problem_mark", None)
        at = f"line {mark.line + 1}: " if mark else ""
        raise BadPrices(f"{at}this is no YAML") from error
    if data in (None, ""):
        return Prices()
    if not isinstance(data, dict):
        raise BadPrices(f"it holds {', '.join(_KEYS)}, each with a colon")
    unknown = [one_line(str(key)) for key in data if key not in _KEYS]
    if unknown:
        raise BadPrices(f"`{unknown[0]}` is not known; it holds {', '.join(_KEYS)}")
    return Prices(
        one_line(str(data.get("currency", ""))),
        _money("hour", data["hour"]) if "hour" in data else None,
        {name: _per_amount(name, price) for name, price in _named(data, "cords").items()},
        {name: _money(name, price) for name, price in _named(data, "findings").items()},
    )


def _named(data: Mapping[str, object], key: str) -> dict[str, object]:
    found = data.get(key) or {}
    if not isinstance(found, dict):
        raise BadPrices(f"{key} needs names with prices, such as `reed: 0.35 per m`")
    return {one_line(str(name)).casefold(): price for name, price in found.items()}


def _money(name: str, price: object) -> float:
    if not isinstance(price, str) or not _MONEY.fullmatch(price.strip()):
        raise BadPrices(f"`{name}` needs a number, such as 12.50")
    return float(price)


def _per_amount(name: str, price: object) -> CordPrice:
    found = _PER.fullmatch(price.strip()) if isinstance(price, str) else None
    if found:
        amount = found["amount"]
        with suppress(QuantityError):
            amount = f"1 {amount}" if amount[:1].isalpha() else amount
            return CordPrice(float(found["price"]), cord_amount(amount))
    example = "such as `0.35 per m` or `14 per kg`"
    raise BadPrices(f"`{name}` needs a price per length or weight, {example}")
