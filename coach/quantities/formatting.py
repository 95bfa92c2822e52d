"""Formatting of quantities for people."""

import re
from math import gcd
from typing import Final

from coach.text import an

_METRE_MM: Final = 1000.0
_LENGTH: Final = re.compile(r"(?<![\w.])(an? )?([0-9]+(?:\.[0-9]+)?) (mm|cm|m)\b")
_MM: Final = {"mm": 1.0, "cm": 10.0, "m": 1000.0}
_QUARTER_YARD_MM: Final = 9 * 25.4
_CUT_IN_YARDS_MM: Final = 72 * 25.4
_NEAR: Final = 1e-6


def show_length(mm: float, unit: str = "cm") -> str:
    """Return a length for people: to 1 mm in `cm`, to 1/16 in in `in`.

    Below 1 cm it is given in mm to a tenth; from 10 m on in m, from 10 ft on in yards.
    """
    if unit == "in":
        return _inches(mm)
    if abs(mm) < 9.95:  # noqa: PLR2004 - what still rounds to less than 1 cm
        return f"{trimmed(mm, 1)} mm"
    if abs(mm) < 10_000:  # noqa: PLR2004 - 10 m
        return f"{trimmed(mm / 10, 1)} cm"
    return f"{trimmed(mm / 1000, 2)} m"


def show_cut(mm: float, unit: str = "cm") -> str:
    """Return a length to cut for people: from 1 m on in metres, from 2 yards on in yards.

    Yards are shown in quarters, as they are cut, or to a tenth where they are none.
    """
    if unit == "in":
        quarters = mm / _QUARTER_YARD_MM
        whole = abs(quarters - round(quarters)) < _NEAR
        if mm < _CUT_IN_YARDS_MM or not whole:
            return _inches(mm)
        return f"{_parted(round(quarters), 4)} yd"
    return show_length(mm, unit) if mm < _METRE_MM else f"{trimmed(mm / _METRE_MM, 3)} m"


def in_units(sentence: str, unit: str) -> str:
    """Return one of our sentences with its lengths in the maker's units.

    Args:
        sentence: A sentence of ours, lengths metric; never the maker's own words.
        unit: `cm` changes nothing, `in` converts each length to inches as it would be cut.
    """
    if unit == "cm":
        return sentence
    return _LENGTH.sub(lambda found: _converted(found, unit), sentence)


def _converted(found: re.Match[str], unit: str) -> str:
    """Return a length in other units, with the article that fits the new figure."""
    length = show_length(float(found[2]) * _MM[found[3]], unit)
    return an(length) if found[1] else length


def show_time(seconds: float) -> str:
    """Return a time as `1 h 10 min`, to the minute; below 2 min to the second, as `90 s`."""
    whole = round(seconds)
    if whole < 120 and whole != 60:  # noqa: PLR2004 - two minutes, one minute
        return f"{whole} s"
    hours, minutes = divmod(round(seconds / 60), 60)
    shown = ([f"{hours} h"] if hours else []) + ([f"{minutes} min"] if minutes else [])
    return " ".join(shown)


def _inches(mm: float) -> str:
    if abs(mm) >= 120 * 25.4:  # 10 ft
        return f"{trimmed(mm / 914.4, 1)} yd"
    sixteenths = round(abs(mm) / 25.4 * 16)
    return f"{'-' if mm < 0 and sixteenths else ''}{_parted(sixteenths, 16)} in"


def _parted(parts: int, of: int) -> str:
    """Return a number of fractions of one, in lowest terms, as `1 1/2`."""
    whole, rest = divmod(parts, of)
    shared = gcd(rest, of)
    part = f"{rest // shared}/{of // shared}" if rest else ""
    return " ".join(filter(None, [str(whole) if whole or not rest else "", part]))


def trimmed(value: float, places: int) -> str:
    """Return a number to a number of places, without trailing zeros: `2.5`, `12`."""
    shown = f"{value:.{places}f}"
    return shown.rstrip("0").rstrip(".") if "." in shown else shown


def show_mass(grams: float) -> str:
    """Return a weight for people: in whole grams, from 1 kg on in kg."""
    return f"{trimmed(grams / 1000, 2)} kg" if grams >= 999.5 else f"{round(grams)} g"  # noqa: PLR2004


def show_fineness(tex: float) -> str:
    """Return a cord's fineness as makers say it, to three figures: `4 g/m`."""
    return f"{float(f'{tex / 1000:.3g}'):g} g/m"


def centimetres(length_mm: float) -> str:
    """Return a length as a maker reads it: `3 cm`, `15 mm`."""
    if length_mm < 20:  # noqa: PLR2004 - below two centimetres, makers say millimetres
        return f"{length_mm:.3g} mm"
    return f"{length_mm / 10:.4g} cm"


def length_phrase(length_mm: float) -> str:
    """Return a length with its article, as it stands before a thing: `a 3 cm`, `an 8 mm`."""
    return an(centimetres(length_mm))
