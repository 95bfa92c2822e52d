"""What each unit is worth: the everyday ones from a small table, every other one from pint.

A library of units takes longer to load than a project to read and plan, and nearly every file is
written in the units of the table; so pint is only loaded when another unit is met, and a test
holds the table against it.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from typing import TYPE_CHECKING, Final, Literal

if TYPE_CHECKING:
    import pint

Dimension = Literal["length", "time", "share", "slope", "weight", "fineness"]


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit of measure: `size` of the base unit that `BASES` names for its dimension."""

    dimension: Dimension
    size: Fraction


BASES: Final[Mapping[Dimension, str]] = {
    "length": "mm", "time": "s", "share": "1", "slope": "°", "weight": "g", "fineness": "tex",
}  # fmt: skip

# The inch and the yard are those of the international yard and pound agreement, 1959 (memory).
_MM: Final = {
    "mm": Fraction(1), "cm": Fraction(10), "m": Fraction(1000),
    "in": Fraction("25.4"), "ft": Fraction("304.8"), "yd": Fraction("914.4"),
}  # fmt: skip
_S: Final = {"s": Fraction(1), "min": Fraction(60), "h": Fraction(3600)}
_EVERYDAY: Final[Mapping[str, Unit]] = {
    **{name: Unit("length", size) for name, size in _MM.items()},
    **{name: Unit("time", size) for name, size in _S.items()},
    "%": Unit("share", Fraction(1, 100)),
    "°": Unit("slope", Fraction(1)),
}
_SPELLINGS: Final[Mapping[str, str]] = {
    "inch": "in", "inches": "in", '"': "in", "foot": "ft", "feet": "ft", "'": "ft",
    "yds": "yd", "yard": "yd", "yards": "yd",
    "sec": "s", "second": "s", "seconds": "s", "mins": "min", "minute": "min", "minutes": "min",
    "hr": "h", "hour": "h", "hours": "h", "deg": "°", "degree": "°", "degrees": "°",
}  # fmt: skip

# Units that pint is asked for, by the name it knows them by: text from a file never reaches it.
_BY_PINT: Final[Mapping[str, tuple[Dimension, str]]] = {
    **dict.fromkeys(("fathom", "fathoms"), ("length", "fathom")),
    **dict.fromkeys(("span", "spans"), ("length", "span")),
    **dict.fromkeys(("hand", "hands"), ("length", "hand")),
    **dict.fromkeys(("g", "gram", "grams"), ("weight", "gram")),
    **dict.fromkeys(("kg", "kilogram", "kilograms"), ("weight", "kilogram")),
    **dict.fromkeys(("oz", "ounce", "ounces"), ("weight", "ounce")),
    **dict.fromkeys(("lb", "lbs", "pound", "pounds"), ("weight", "pound")),
    "tex": ("fineness", "tex"),
    "dtex": ("fineness", "decitex"),
    **dict.fromkeys(("den", "denier"), ("fineness", "denier")),
    "g/m": ("fineness", "gram / meter"),
    "g/km": ("fineness", "gram / kilometer"),
    "kg/km": ("fineness", "kilogram / kilometer"),
    "oz/yd": ("fineness", "ounce / yard"),
}


def unit_of(written: str) -> Unit | None:
    """Return the unit that a word names, whatever its case; None for a word that names none."""
    name = written.lower()
    everyday = _EVERYDAY.get(_SPELLINGS.get(name, name))
    if everyday or name not in _BY_PINT:
        return everyday
    dimension, pint_name = _BY_PINT[name]
    return Unit(dimension, _size_by_pint(pint_name, dimension))


@cache
def _size_by_pint(name: str, dimension: Dimension) -> Fraction:
    """Return how much of the base of its dimension a unit of pint is."""
    base = {"length": "millimeter", "weight": "gram", "fineness": "tex"}[dimension]
    return Fraction(_registry().Quantity(1, name).to(base).magnitude)


@cache
def _registry() -> "pint.UnitRegistry[Fraction]":
    """Return pint's units in exact fractions, with the span, which its own list has not.

    pint keeps what it has parsed in a folder if it is let; a damaged one ends the program.
    """
    import pint

    registry: pint.UnitRegistry[Fraction] = pint.UnitRegistry(
        cache_folder=None, non_int_type=Fraction
    )
    registry.define("span = 9 * inch")
    return registry
