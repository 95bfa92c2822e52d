"""Written instructions for reading aloud: numbers, units and ranges in words."""

import re
from collections.abc import Sequence
from textwrap import wrap
from typing import Final

from coach.text import join_words

_ONES: Final = (
    "nought", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten",
    "eleven", "twelve", "thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen",
    "nineteen",
)  # fmt: skip
_TENS: Final = (
    "",
    "",
    "twenty",
    "thirty",
    "forty",
    "fifty",
    "sixty",
    "seventy",
    "eighty",
    "ninety",
)
_PARTS: Final = {2: "half", 4: "quarter", 8: "eighth", 16: "sixteenth"}
_UNITS: Final = {
    "mm": "millimetre", "cm": "centimetre", "m": "metre", "in": "inch", "yd": "yard", "s": "second",
    "min": "minute", "h": "hour", "g": "gram", "kg": "kilogram", "°": "degree",
}  # fmt: skip
_WIDTH: Final = 78
_NUMBER: Final = r"(?:\d{1,3}(?:,\d{3})+|\d+)(?:\.\d+)?"
_RANGE: Final = re.compile(r"(\d+)\s?[-\u2013]\s?(\d+)")
_BUNDLES: Final = re.compile(r"(?<=Plait )strands ([\d, and-]*\d-\d[\d, and-]*)(?= for| with)")
_CUT: Final = re.compile(
    r"^(?P<number>\w+) (?P<long>[\d,./ ]+ \w+) (?P<what>lengths? of [^(]+?) \("
)
_IN: Final = "turn|all|order|groups|steps|each of|the|its|your"  # after which `in` is no inch
_QUANTITY: Final = re.compile(
    rf"(?<![\w.])(?P<number>(?:{_NUMBER} )?\d+/\d+|{_NUMBER})"
    rf"(?:(?P<gap> ?)(?P<unit>{'|'.join(_UNITS)}|%)(?![\w%])(?! (?:{_IN})\b))?"
    r"(?P<noun> (?:length|gap|bead|loop|gathering knot))?"
)
_STEP: Final = re.compile(r"^ *- \*\*(\d+)\.\*\* ")
_MARKS: Final = re.compile(r"^(?:#+ |(?: *- ))|\*\*|(?<!\\)\*|\\(?=\W)")


def read_aloud(lines: Sequence[str]) -> list[str]:
    """Return lines of Markdown as they are read aloud; `**4.**` becomes `Step four:`."""
    plain = (_MARKS.sub("", _STEP.sub(r"Step \1: ", line)) for line in lines)
    return [part for line in plain for part in wrap(aloud(line), _WIDTH) or [""]]


def aloud(text: str) -> str:
    """Return a text with its numbers and units in words: `a three centimetre gap`."""
    text = _CUT.sub(_each_long, _BUNDLES.sub(_bundles, text)).replace(" in 100", " in a hundred")
    said = _QUANTITY.sub(_said, _RANGE.sub(_range, text))
    said = re.sub(r"\b([Aa]) (?=eighth|eleven|eighteen)", r"\1n ", said)
    return re.sub(r"(?<=\. )[a-z]|^[a-z]", lambda found: found[0].upper(), said)


def _bundles(found: re.Match[str]) -> str:
    """Return the bundles of a plait so that a range is not heard as one of them."""
    bundles = re.findall(r"\d+(?:-\d+)?", found[1])
    return join_words([f"strands {b} together" if "-" in b else f"strand {b}" for b in bundles])


def _each_long(found: re.Match[str]) -> str:
    """Return a line of the cut list without two numbers side by side."""
    each = "" if found["number"].lower() == "one" else " each"
    return f"{found['number']} {found['what']}, {found['long']}{each} ("


def _range(found: re.Match[str]) -> str:
    """Return a range as it is said: `three and four`, `one to eight`."""
    joint = "and" if int(found[2]) == int(found[1]) + 1 else "to"
    return f"{found[1]} {joint} {found[2]}"


def number_words(number: str) -> str:
    """Return a number in words: `two point four`, `one and a half`, `a hundred and twenty`."""
    whole, _, part = number.replace(",", "").rpartition(" ")
    if "/" in part:
        fraction = _fraction(*map(int, part.split("/")))
        return f"{_whole(int(whole))} and {fraction}" if whole else fraction
    units, _, decimals = part.partition(".")
    told = _whole(int(units))
    return f"{told} point {' '.join(_ONES[int(d)] for d in decimals)}" if decimals else told


def _said(found: re.Match[str]) -> str:
    """Return a quantity in words; in front of a noun its unit has no plural."""
    number, unit = found["number"], found["unit"] or ""
    noun = found["noun"] or ""
    told = number_words(number)
    if not unit:
        return f"{told}{noun}"
    if unit == "%":
        return f"{told} per cent{noun}"
    if "/" in number and " " not in number:
        return _part_of(told, _UNITS[unit], noun)
    one = number == "1" or bool(noun)
    name = _UNITS[unit]
    many = name if one else f"{name}{'es' if name == 'inch' else 's'}"
    return f"{told} {many}{noun}"


def _part_of(told: str, unit: str, noun: str) -> str:
    """Return a part of one unit: `half an inch`, `three quarters of an inch`, `half inch gap`."""
    if noun:  # its article stands before the figure
        return f"{told.removeprefix('a ').removeprefix('an ')} {unit}{noun}"
    an = "an" if unit == "inch" else "a"
    return f"half {an} {unit}" if told == "a half" else f"{told} of {an} {unit}"


def _fraction(parts: int, of: int) -> str:
    name = _PARTS.get(of, "")
    if not name:
        return f"{_whole(parts)} over {_whole(of)}"
    if parts == 1:
        return f"{'an' if name[0] == 'e' else 'a'} {name}"
    return f"{_whole(parts)} {name}s"


def _whole(number: int) -> str:
    if number < len(_ONES):
        return _ONES[number]
    if number < 100:  # noqa: PLR2004 - tens
        tens, rest = divmod(number, 10)
        return _TENS[tens] + (f"-{_ONES[rest]}" if rest else "")
    for size, name in ((1_000_000, "million"), (1_000, "thousand"), (100, "hundred")):
        if number >= size:
            many, rest = divmod(number, size)
            joint = " and " if rest < 100 else " "  # noqa: PLR2004 - a hundred
            return f"{_whole(many)} {name}" + (f"{joint}{_whole(rest)}" if rest else "")
    return str(number)
