"""Quantities as makers write them, read by our own grammar.

Whatever is read is exact (a fraction) until the last step, so `7 in` is 177.8 mm and no less.
"""

import re
from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import lru_cache
from math import gcd
from typing import Final

_LONGEST_TEXT: Final = 60
_LONGEST_LENGTH_MM: Final = 10**8  # 100 km
_LONGEST_TIME_S: Final = 10_000 * 3600
_LARGEST_SHARE: Final = 2

_UNITS: Final = {
    "mm": "millimetre", "cm": "centimetre", "m": "metre",
    "in": "inch", "inch": "inch", "inches": "inch", '"': "inch",
    "ft": "foot", "foot": "foot", "feet": "foot", "'": "foot",
    "yd": "yard", "yds": "yard", "yard": "yard", "yards": "yard",
    "s": "second", "sec": "second", "second": "second", "seconds": "second",
    "min": "minute", "mins": "minute", "minute": "minute", "minutes": "minute",
    "h": "hour", "hr": "hour", "hour": "hour", "hours": "hour",
    "%": "percent",
    "°": "degree", "deg": "degree", "degree": "degree", "degrees": "degree",
}  # fmt: skip

_KINDS: Final = {  # base unit: what it measures, an example, the units to suggest from
    "millimetre": ("length", "18 cm", ("mm", "cm", "m", "in", "ft", "yd")),
    "second": ("time", "45 min", ("s", "sec", "min", "h", "hr")),
    "ratio": ("share", "10 %", ("%",)),
    "degree": ("slope", "45°", ("deg", "°")),
}

# How much of its base each unit is, in grains: all of them are whole numbers of those. The inch and
# the yard are those of the international yard and pound agreement, 1959 (memory); a registry of
# units would take longer to load than to read and plan a whole project, so it is the tests that
# hold these against one.
_GRAINS: Final = {"millimetre": 10, "second": 1, "ratio": 100, "degree": 1}  # in one of each base
_FACTORS: Final = {
    "millimetre": ("millimetre", 10), "centimetre": ("millimetre", 100),
    "metre": ("millimetre", 10_000), "inch": ("millimetre", 254), "foot": ("millimetre", 12 * 254),
    "yard": ("millimetre", 36 * 254),
    "second": ("second", 1), "minute": ("second", 60), "hour": ("second", 3600),
    "percent": ("ratio", 1),
    "degree": ("degree", 1),
}  # fmt: skip

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
    """A quantity that cannot be taken: `message` says what is wrong, `hint` what would be right."""

    def __init__(self, message: str, hint: str = "") -> None:
        super().__init__(message)
        self.message = message
        self.hint = hint


@dataclass(frozen=True, slots=True)
class _Term:
    number: tuple[int, int]  # above and below the line
    unit: str  # as in _UNITS' values, or "" where none was written


def length_mm(text: str, *, zero: bool = True) -> float:
    """Return a length such as `18 cm`, `1 1/2 in` or `7"` in mm.

    Raises QuantityError for anything else, for a negative length, more than 100 km and, unless
    `zero`, for none at all.
    """
    value = _single(text, "millimetre", _LONGEST_LENGTH_MM)
    if not (zero or value):
        raise QuantityError("This length must be more than zero.", "Give it as in ‘2 mm’.")
    return value


def time_s(text: str) -> float:
    """Return a time such as `45 min` or `1 h 10 min` in seconds; raises QuantityError."""
    return _single(text, "second", _LONGEST_TIME_S)


def time_range_s(text: str) -> tuple[float, float]:
    """Return `20-30 min` or one time as (least, most) in seconds; raises QuantityError."""
    parts = re.split(r"-|\bto\b", _shaped(text))
    if len(parts) != 2 or not parts[0].strip():  # noqa: PLR2004 - a range has two ends
        single = time_s(text)
        return single, single
    last = _terms(parts[1], "second")
    first = [
        term if term.unit else replace(term, unit=last[-1].unit)
        for term in _terms(parts[0], "second", bare=True)
    ]
    least, most = (_total(terms, "second", _LONGEST_TIME_S) for terms in (first, last))
    if least > most:
        raise QuantityError("The range runs from more to less.", "Put the shorter time first.")
    return least, most


def share(text: str) -> float:
    """Return `10 %` as 0.1; raises QuantityError for anything else and for more than 200 %."""
    return _single(text, "ratio", _LARGEST_SHARE)


def angle_deg(text: str) -> float:
    """Return a slope such as `45°` in degrees, between 0 and 90; raises QuantityError."""
    value = _single(text, "degree", 90)
    if value in (0, 90):
        raise QuantityError("A slope lies between 0° and 90°.", "A row at 0° is ‘lie: level’.")
    return value


def show_length(mm: float, unit: str = "cm") -> str:
    """Show a length for people: to 1 mm in `cm`, to 1/16 in in `in`.

    Below 1 cm it is shown in mm to a tenth; from 10 m on in m, from 10 ft on in yards.
    """
    if unit == "in":
        return _inches(mm)
    if abs(mm) < 9.95:  # noqa: PLR2004 - what still rounds to less than 1 cm
        return f"{_trimmed(mm, 1)} mm"
    if abs(mm) < 10_000:  # noqa: PLR2004 - 10 m
        return f"{_trimmed(mm / 10, 1)} cm"
    return f"{_trimmed(mm / 1000, 2)} m"


def show_time(seconds: float) -> str:
    """Show a time as `1 h 10 min`, to the minute; below 2 min to the second, as `90 s`."""
    whole = round(seconds)
    if whole < 120 and whole != 60:  # noqa: PLR2004 - two minutes, one minute
        return f"{whole} s"
    hours, minutes = divmod(round(seconds / 60), 60)
    shown = ([f"{hours} h"] if hours else []) + ([f"{minutes} min"] if minutes else [])
    return " ".join(shown)


def _inches(mm: float) -> str:
    if abs(mm) >= 120 * 25.4:  # 10 ft
        return f"{_trimmed(mm / 914.4, 1)} yd"
    sixteenths = round(abs(mm) / 25.4 * 16)
    whole, rest = divmod(sixteenths, 16)
    shared = gcd(rest, 16)
    part = f"{rest // shared}/{16 // shared}" if rest else ""
    shown = " ".join(filter(None, [str(whole) if whole or not rest else "", part]))
    return f"{'-' if mm < 0 and sixteenths else ''}{shown} in"


def _trimmed(value: float, places: int) -> str:
    shown = f"{value:.{places}f}"
    return shown.rstrip("0").rstrip(".") if "." in shown else shown


@lru_cache(maxsize=512)  # a file says the same few over and over
def _single(text: str, base: str, most: int) -> float:
    return _total(_terms(_shaped(text), base), base, most)


def _total(terms: Iterable[_Term], base: str, most: int) -> float:
    """Return the sum of terms, exact until the last division."""
    kind, example, _ = _KINDS[base]
    above, below, before = 0, _GRAINS[base], 0
    for term in terms:
        measures, factor = _FACTORS[term.unit]
        if measures != base:
            wrong = _KINDS[measures][0]
            raise QuantityError(
                f"This is a {wrong}, but it should be a {kind}.",
                f"Give a {kind} as in ‘{example}’.",
            )
        if before and factor >= before:
            raise QuantityError("The units must run from large to small.", _as_in(example))
        number, parts = term.number
        above = above * parts + number * factor * (below // _GRAINS[base])
        below, before = below * parts, factor
    if above > most * below:
        raise QuantityError(f"This {kind} is too large to be meant.", _as_in(example))
    return above / below


def _as_in(example: str) -> str:
    return f"Write it as in ‘{example}’."


def _shaped(text: str) -> str:
    """Return the text with one shape for primes, dashes and fractions."""
    if len(text) > _LONGEST_TEXT:
        raise QuantityError("This is too long for a number and a unit.", "")
    return text.translate(_SHAPES).strip()


def _terms(text: str, base: str, *, bare: bool = False) -> list[_Term]:
    """Split `1 h 10 min` into terms; `bare` lets the unit be missing."""
    if _COMMA.search(text) or _LONG_DIGITS.search(text):
        raise _not_read(text, base)
    terms: list[_Term] = []
    at = 0
    while at < len(text) or not terms:
        found = _TERM.match(text, at)
        if not found:
            raise _not_read(text, base)
        terms.append(_Term(_fraction(found["number"], base), _unit(found["unit"], base, bare=bare)))
        at = found.end()
    return terms


def _fraction(written: str, base: str) -> tuple[int, int]:
    """Return `1 1/2` as 3 and 2, `10.5` as 105 and 10."""
    above, below = 0, 1
    for part in written.split():
        if "/" in part:
            number, parts = map(int, part.split("/"))
        else:
            left, _, right = part.partition(".")
            number, parts = int(left + right), 10 ** len(right)
        if not parts:
            raise QuantityError("A fraction cannot have 0 below the line.",
                                _as_in(_KINDS[base][1]))  # fmt: skip
        above, below = above * parts + number * below, below * parts
    return above, below


def _unit(written: str | None, base: str, *, bare: bool) -> str:
    kind, example, suggested = _KINDS[base]
    if written is None:
        if bare:
            return ""
        raise QuantityError(f"The unit of this {kind} is missing.", _as_in(example))
    unit = _UNITS.get(written.lower())
    if unit:
        return unit
    alike = [name for name in suggested if name[0] == written[0].lower()]
    from difflib import get_close_matches  # noqa: PLC0415 - only for a misspelt word

    near = get_close_matches(written.lower(), alike or suggested, n=1, cutoff=0.5)
    hint = f"Did you mean ‘{near[0]}’?" if near else f"Units are {', '.join(suggested)}."
    raise QuantityError(f"Unknown unit ‘{written}’.", hint)


def _not_read(text: str, base: str) -> QuantityError:
    """Say why `text` does not follow the grammar."""
    kind, example, _ = _KINDS[base]
    if text.startswith("-"):
        return QuantityError(f"A {kind} cannot be negative.", _as_in(example))
    if _COMMA.search(text):
        pointed = _COMMA.sub(r"\1.\2", text)
        return QuantityError(
            "Write a number with a point, not a comma.", f"Did you mean ‘{pointed}’?"
        )
    if _LONG_DIGITS.search(text):
        return QuantityError("This number has too many figures.", _as_in(example))
    return QuantityError(f"This is not a {kind}: it needs a number and a unit.", _as_in(example))
