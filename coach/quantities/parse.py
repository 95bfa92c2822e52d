"""Readers of quantities, a function for each kind; its name ends with the unit it returns."""

import re
from dataclasses import replace
from functools import lru_cache
from typing import Final

from coach.quantities.cord_weight import CordAmount, mass_of_g
from coach.quantities.grammar import QuantityError, as_in, shaped, terms, total
from coach.quantities.units import Dimension

LONGEST_LENGTH_MM: Final = 10**8  # 100 km
_LONGEST_TIME_S: Final = 10_000 * 3600
_LARGEST_SHARE: Final = 2
HEAVIEST_G: Final = 10**6  # a tonne of cord
FINEST_TEX: Final = 1  # a gram a kilometre: thinner than any thread to knot with
COARSEST_TEX: Final = 10**7  # 10 kg a metre: a hawser
_PER: Final = re.compile(r"\s+per\s+|(?<=[a-z\"'])\s*/\s*", re.IGNORECASE)  # not that of 1/2


def length_mm(text: str, *, zero: bool = True) -> float:
    """Return a length such as `18 cm`, `1 1/2 in`, `7"` or `0.1 fathom` in mm.

    Args:
        text: What was written.
        zero: Whether 0 is accepted.

    Raises:
        QuantityError: It is not a length, it is negative or more than 100 km.
    """
    value = _single(text, "length", LONGEST_LENGTH_MM)
    if not (zero or value):
        raise QuantityError("This length must be more than zero.", "Write it as in ‘2 mm’.")
    return value


def time_s(text: str) -> float:
    """Return a time such as `45 min` or `1 h 10 min` in seconds. Raises QuantityError."""
    return _single(text, "time", _LONGEST_TIME_S)


def time_range_s(text: str) -> tuple[float, float]:
    """Return `20-30 min` or one time as (least, most) in seconds. Raises QuantityError."""
    parts = re.split(r"-|\bto\b", shaped(text))
    if len(parts) != 2 or not parts[0].strip():  # noqa: PLR2004 - a range has two ends
        single = time_s(text)
        return single, single
    last = terms(parts[1], "time")
    first = [
        term if term.unit else replace(term, unit=last[-1].unit)
        for term in terms(parts[0], "time", bare=True)
    ]
    least, most = (total(found, "time", _LONGEST_TIME_S) for found in (first, last))
    if least > most:
        raise QuantityError("The range runs from more to less.", "Put the shorter time first.")
    return least, most


def share(text: str) -> float:
    """Return `10 %` as 0.1. Raises QuantityError for anything else and for more than 200 %."""
    return _single(text, "share", _LARGEST_SHARE)


def angle_deg(text: str) -> float:
    """Return a slope such as `45°` in degrees, between 0 and 90. Raises QuantityError."""
    value = _single(text, "slope", 90)
    if value in (0, 90):
        raise QuantityError("A slope lies between 0° and 90°.", "A row at 0° is ‘lie: level’.")
    return value


def mass_g(text: str) -> float:
    """Return a weight such as `500 g` or `1 lb 4 oz` in grams. Raises QuantityError."""
    value = _single(text, "weight", HEAVIEST_G)
    if not value:
        raise QuantityError("This weight must be more than zero.", as_in("500 g"))
    return value


def cord_amount(text: str) -> CordAmount:
    """Return the amount of cord that a length such as `25 m` or a weight like `500 g` names.

    Raises:
        QuantityError: It is neither, or zero.
    """
    found = terms(shaped(text), "length or weight")
    if any(term.unit and term.unit.dimension == "weight" for term in found):
        return CordAmount(mass_g(text), by_weight=True)
    return CordAmount(length_mm(text, zero=False), by_weight=False)


def fineness_tex(text: str) -> float:
    """Return the fineness of a cord in tex, grams per kilometre.

    Accepts `1200 tex`, `1200 dtex`, `210 denier`, a weight per length such as `4 g/m`, and a
    length per weight as yarn is sold: `250 m per kg`, `85 m per 100 g`, `120 yd/oz`. 1 tex =
    1 g/km, 1 denier = 1 g per 9 km (ISO 1144:2016, quoted).

    Raises:
        QuantityError: It is none of these, or no cord is that light or that heavy.
    """
    parts = _PER.split(shaped(text))
    if len(parts) == 2:  # noqa: PLR2004 - so much per so much
        value = _weight_per_length(*parts)
    else:
        value = _single(text, "weight per length", COARSEST_TEX)
    if not FINEST_TEX <= value <= COARSEST_TEX:
        raise QuantityError("No cord weighs so little or so much.", as_in("4 g/m"))
    return value


def _weight_per_length(one: str, other: str) -> float:
    """Return the tex of an amount per another, whichever of the two is the weight."""
    amounts = (cord_amount(one), cord_amount(f"1 {other}" if other[:1].isalpha() else other))
    sizes = {amount.by_weight: amount.size for amount in amounts}
    if len(sizes) == 1:
        raise QuantityError("This is not a weight per length.", as_in("4 g/m"))
    return sizes[True] / mass_of_g(sizes[False], 1)


@lru_cache(maxsize=512)  # a file says the same few over and over
def _single(text: str, dimension: Dimension, most: float) -> float:
    return total(terms(shaped(text), dimension), dimension, most)
