"""The sizes of units: everyday ones from a small table, every other one from pint.

Loading pint takes longer than reading and planning a project, and nearly every file is written in
the units of the table; so pint is only loaded when another unit is met. A test holds the table
against pint.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from typing import TYPE_CHECKING, Final, Literal

if TYPE_CHECKING:
    import pint

Dimension = Literal["length", "time", "share", "slope", "weight", "weight per length"]


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit of measure: `size` of the base unit that `BASES` names for its dimension."""

    dimension: Dimension
    size: Fraction


BASES: Final[Mapping[Dimension, str]] = {
    "length": "mm", "time": "s", "share": "1", "slope": "°", "weight": "g",
    "weight per length": "tex",
}  # fmt: skip

# Dimension, size and spellings, the usual one first. The inch, foot and yard are those of the
# international yard and pound agreement, 1959 (memory).
EVERYDAY: Final[tuple[tuple[Dimension, str, str], ...]] = (
    ("length", "1", "mm"),
    ("length", "10", "cm"),
    ("length", "1000", "m"),
    ("length", "25.4", 'in inch inches "'),
    ("length", "304.8", "ft foot feet '"),
    ("length", "914.4", "yd yds yard yards"),
    ("time", "1", "s sec second seconds"),
    ("time", "60", "min mins minute minutes"),
    ("time", "3600", "h hr hour hours"),
    ("share", "1/100", "%"),
    ("slope", "1", "° deg degree degrees"),
)
# The same with the name that pint knows the unit by: text from a file never reaches it.
_BY_PINT: Final[tuple[tuple[Dimension, str, str], ...]] = (
    ("length", "fathom", "fathom fathoms"),
    ("length", "span", "span spans"),
    ("length", "hand", "hand hands"),
    ("weight", "gram", "g gm gms gram grams"),
    ("weight", "kilogram", "kg kgs kilo kilos kilogram kilograms"),
    ("weight", "ounce", "oz ounce ounces"),
    ("weight", "pound", "lb lbs pound pounds"),
    ("weight per length", "tex", "tex"),
    ("weight per length", "decitex", "dtex"),
    ("weight per length", "denier", "den denier"),
)
_SMALL_TABLE: Final = {
    spelling: Unit(dimension, Fraction(size))
    for dimension, size, spellings in EVERYDAY
    for spelling in spellings.split()
}
_ASKED_OF_PINT: Final = {
    spelling: (dimension, name)
    for dimension, name, spellings in _BY_PINT
    for spelling in spellings.split()
}


def words_for(dimension: Dimension) -> tuple[str, ...]:
    """Return every word that names a unit of a dimension, without signs such as `"`."""
    return tuple(
        spelling
        for of, _, spellings in (*EVERYDAY, *_BY_PINT)
        for spelling in spellings.split()
        if of == dimension and spelling.isalpha()
    )


def unit_of(written: str) -> Unit | None:
    """Return the unit that a word names, in any case; None for an unknown word."""
    spelling = written.lower()
    if spelling in _SMALL_TABLE or spelling not in _ASKED_OF_PINT:
        return _SMALL_TABLE.get(spelling)
    dimension, name = _ASKED_OF_PINT[spelling]
    return Unit(dimension, _size_by_pint(name, dimension))


@cache
def _size_by_pint(name: str, dimension: Dimension) -> Fraction:
    """Return the size of one of pint's units in the base unit of its dimension."""
    return Fraction(_registry().Quantity(1, name).to(BASES[dimension]).magnitude)


@cache
def _registry() -> "pint.UnitRegistry[Fraction]":
    """Return pint's registry in exact fractions, with the span added.

    Its cache folder is switched off: a damaged one would end the program.
    """
    import pint

    registry: pint.UnitRegistry[Fraction] = pint.UnitRegistry(
        cache_folder=None, non_int_type=Fraction
    )
    registry.define("span = 9 * inch")
    return registry
