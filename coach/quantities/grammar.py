"""The grammar of quantities: exact numbers with units, and messages that say what to write.

pint's own parser is not used on text from files: it takes `1 1/2 inch` for a half and works out
powers that never end. A number is read here, and only a unit's bare name goes to pint.
"""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from difflib import get_close_matches
from fractions import Fraction
from typing import Final, Literal

from coach.quantities.units import Dimension, Unit, unit_of

_LONGEST_TEXT: Final = 60

Wanted = Dimension | Literal["length or weight"]

_KINDS: Final[dict[Wanted, tuple[str, tuple[str, ...]]]] = {
    # an example, and the units to suggest from
    "length": ("18 cm", ("mm", "cm", "m", "in", "ft", "yd")),
    "time": ("45 min", ("s", "sec", "min", "h", "hr")),
    "share": ("10 %", ("%",)),
    "slope": ("45°", ("deg", "°")),
    "weight": ("500 g", ("g", "kg", "oz", "lb")),
    "weight per length": ("4 g/m", ("tex", "dtex", "denier", "g/m", "m per kg")),
    "length or weight": (
        "25 m’ or ‘500 g",
        ("mm", "cm", "m", "in", "ft", "yd", "g", "kg", "oz", "lb"),
    ),
}

_VULGAR: Final = {
    "½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8",
    "⅓": "1/3", "⅔": "2/3",
}  # fmt: skip
_SHAPES: Final = str.maketrans(
    {
        "\u2033": '"', "\u201d": '"', "\u2032": "'", "\u2019": "'", "\u2044": "/",
        "\u2013": "-", "\u2212": "-", "\u00a0": " ", "\u202f": " ", "\u00ba": "°",
    } | {sign: f" {text} " for sign, text in _VULGAR.items()}
)  # fmt: skip

_NUMBER = (
    r"[0-9]{1,12}\s+[0-9]{1,6}/[0-9]{1,6}|[0-9]{1,12}/[0-9]{1,6}"
    r"|[0-9]{1,12}(?:\.[0-9]{1,12})?|\.[0-9]{1,12}"
)
_TERM = re.compile(rf"\s*(?P<number>{_NUMBER})\s*(?P<unit>[^\W\d_]+|[%\"'°])?\s*")
_COMMA = re.compile(r"([0-9]),([0-9])")
_LONG_DIGITS = re.compile(r"[0-9.]{13,}")


class QuantityError(ValueError):
    """A quantity that cannot be read: `message` says what is wrong, `hint` what to write."""

    def __init__(self, message: str, hint: str = "") -> None:
        super().__init__(message)
        self.message = message
        self.hint = hint


@dataclass(frozen=True, slots=True)
class Term:
    """One number with its unit, None where no unit was written."""

    number: Fraction
    unit: Unit | None


def shaped(text: str) -> str:
    """Return the text with primes, dashes and fractions normalized. Raises QuantityError."""
    if len(text) > _LONGEST_TEXT:
        raise QuantityError("This is too long for a number and a unit.", "")
    one = text.translate(_SHAPES).strip()
    if _COMMA.search(one):
        pointed = _COMMA.sub(r"\1.\2", one)
        message = "Write a number with a point, not a comma."
        raise QuantityError(message, f"Did you mean ‘{pointed}’?")
    return one


def terms(text: str, wanted: Wanted, *, bare: bool = False) -> list[Term]:
    """Split `1 h 10 min` into terms; `bare` lets a unit be missing.

    Args:
        text: What was written.
        wanted: What kind of quantity is needed here, with an example for messages.
        bare: Whether a number may stand without a unit.

    Raises:
        QuantityError: It is no such quantity; the text says why, and what to write.
    """
    if _LONG_DIGITS.search(text):
        raise _not_read(text, wanted)
    found: list[Term] = []
    at = 0
    while at < len(text) or not found:
        term = _TERM.match(text, at)
        if not term:
            raise _not_read(text, wanted)
        number = _fraction(term["number"], wanted)
        found.append(Term(number, _unit(term["unit"], wanted, bare=bare)))
        at = term.end()
    return found


def total(found: Iterable[Term], dimension: Dimension, most: float) -> float:
    """Return the sum of terms in the base unit of a dimension, exact until the last division.

    Args:
        found: The terms, largest unit first.
        dimension: What they must measure.
        most: The largest sum that is accepted, in the base unit.

    Raises:
        QuantityError: A unit measures something else, the terms are out of order, or their sum is
            over `most`.
    """
    example, _ = _KINDS[dimension]
    value, before = Fraction(0), None
    for term in found:
        unit = term.unit
        if unit is None or unit.dimension != dimension:
            wrong = unit.dimension if unit else "bare number"
            raise QuantityError(
                f"This is a {wrong}, but it should be a {dimension}.",
                f"Give a {dimension} as in ‘{example}’.",
            )
        if before and unit.size >= before:
            raise QuantityError("The units must run from large to small.", as_in(example))
        value, before = value + term.number * unit.size, unit.size
    if value > most:
        raise QuantityError(f"This {dimension} is too large to be meant.", as_in(example))
    return float(value)


def as_in(example: str) -> str:
    """Return the hint that shows an example of how a quantity is written."""
    return f"Write it as in ‘{example}’."


def _fraction(written: str, wanted: Wanted) -> Fraction:
    """Return `1 1/2` as 3/2, `10.5` as 21/2."""
    try:
        return sum((Fraction(part) for part in written.split()), Fraction(0))
    except ZeroDivisionError as error:
        raise QuantityError(
            "A fraction cannot have 0 below the line.", as_in(_KINDS[wanted][0])
        ) from error


def _unit(written: str | None, wanted: Wanted, *, bare: bool) -> Unit | None:
    example, suggested = _KINDS[wanted]
    if written is None:
        if bare:
            return None
        raise QuantityError(f"The unit of this {wanted} is missing.", as_in(example))
    unit = unit_of(written)
    if unit:
        return unit
    alike = [name for name in suggested if name[0] == written[0].lower()]
    near = get_close_matches(written.lower(), alike or suggested, n=1, cutoff=0.5)
    hint = f"Did you mean ‘{near[0]}’?" if near else f"Units are {', '.join(suggested)}."
    raise QuantityError(f"Unknown unit ‘{written}’.", hint)


def _not_read(text: str, wanted: Wanted) -> QuantityError:
    """Return the error that says why `text` does not follow the grammar."""
    example, _ = _KINDS[wanted]
    if text.startswith("-"):
        return QuantityError(f"A {wanted} cannot be negative.", as_in(example))
    if _LONG_DIGITS.search(text):
        return QuantityError("This number has too many figures.", as_in(example))
    return QuantityError(f"This is not a {wanted}: it needs a number and a unit.", as_in(example))
