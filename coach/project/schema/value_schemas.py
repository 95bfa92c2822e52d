"""Single values as JSON Schema (draft 2020-12): the same words as the reader takes.

Patterns are written for both ECMA 262 and Python, so names are spelt out letter by letter.
"""

import re
from collections.abc import Iterable, Sequence
from typing import Any, Final

from coach.knots.names import ROW_SYNONYMS, SYNONYMS
from coach.yaml_reader.colours import NAMED

Schema = dict[str, Any]

_APOSTROPHE: Final = "['\u2018\u2019\u02bc\u00b4`\u2032]"
_JOIN: Final = r"[\s_\u2010\u2011-]+"
_NUMBER: Final = (
    r"(?:[0-9]{1,12}\s+[0-9]{1,6}/[0-9]{1,6}|[0-9]{1,12}/[0-9]{1,6}"
    r"|[0-9]{1,12}(?:\.[0-9]{1,12})?|\.[0-9]{1,12}|[0-9]{0,12}\s*[½¼¾⅛⅜⅝⅞⅓⅔])"
)
_LENGTHS: Final = (
    "mm", "cm", "m", "in", "inch", "inches", "ft", "foot", "feet", "yd", "yds", "yard", "yards",
)  # fmt: skip
_TIMES: Final = (
    "s", "sec", "second", "seconds", "min", "mins", "minute", "minutes",
    "h", "hr", "hour", "hours",
)  # fmt: skip
_SLOPES: Final = ("deg", "degree", "degrees")
_RANGE: Final = r"\s*0*[1-9][0-9]{0,3}(?:\s*[-\u2013]\s*0*[1-9][0-9]{0,3})?\s*"


def spelt(name: str) -> str:
    """Return a pattern for a name in any case, with any hyphens and apostrophe."""
    signs = []
    for sign in name:
        if sign == " ":
            signs.append(_JOIN)
        elif sign == "'":
            signs.append(_APOSTROPHE)
        elif sign.lower() != sign.upper():
            signs.append(f"[{sign.lower()}{sign.upper()}]")
        else:
            signs.append(re.escape(sign))
    return "".join(signs)


def _any(names: Iterable[str]) -> str:
    return f"(?:{'|'.join(spelt(name) for name in names)})"


def pattern(inside: str) -> Schema:
    """Return a text that is `inside` from end to end."""
    return {"type": "string", "pattern": f"^{inside}$"}


def words(names: Sequence[str]) -> Schema:
    """Return one of some words; the list is there for an editor to complete."""
    return {"anyOf": [{"enum": list(names)}, pattern(rf"[\s_-]*{_any(names)}[\s_-]*")]}


def knots(names: Sequence[str], *, row: bool = False) -> Schema:
    """Return one of some knots, the trade's other names for them among the words."""
    others = SYNONYMS | (ROW_SYNONYMS if row else {})
    return words([*names, *(other for other, first in others.items() if first in names)])


def _quantity(units: Iterable[str], signs: str, ahead: str = "") -> Schema:
    unit = rf"(?:{_any(units)}|[{signs}])" if signs else _any(units)
    return pattern(rf"{ahead}(?:\s*{_NUMBER}\s*{unit}\s*)+")


def whole(least: int = 1, most: int | None = None) -> Schema:
    """Return a whole number, with quotes or without."""
    number: Schema = {"type": "integer", "minimum": least}
    if most is not None:
        number["maximum"] = most
    return {"anyOf": [number, pattern(r"\s*0*[1-9][0-9]{0,11}\s*")]}


def listed(item: Schema, *, least: int = 1) -> Schema:
    """Return a list of items, or a single one without the brackets."""
    return {"anyOf": [item, {"type": "array", "items": item, "minItems": least}]}


TEXT: Final[Schema] = {"type": ["string", "number", "boolean"], "pattern": r"\S"}
TEXTS: Final[Schema] = listed(TEXT, least=0)
_NOT_ZERO: Final = "(?=.*[1-9½¼¾⅛⅜⅝⅞⅓⅔])"
LENGTH: Final = _quantity(_LENGTHS, "\"'\u2032\u2033\u2019\u201d")
THICKNESS: Final = _quantity(_LENGTHS, "\"'\u2032\u2033\u2019\u201d", _NOT_ZERO)
TIME: Final = _quantity(_TIMES, "")
_TERMS: Final = rf"(?:\s*{_NUMBER}\s*{_any(_TIMES)}\s*)+"
_BARE: Final = rf"(?:\s*{_NUMBER}\s*{_any(_TIMES)}?\s*)+"
TIMES: Final = pattern(rf"(?:{_BARE}(?:[-\u2013\u2212]|to\s))?{_TERMS}")
SHARE: Final = pattern(rf"\s*{_NUMBER}\s*%\s*")
SLOPE: Final = _quantity(_SLOPES, "°\u00ba", "(?!\\s*90)(?!\\s*[1-9][0-9]{2})" + _NOT_ZERO)
COLOUR: Final[Schema] = {
    "anyOf": [
        {"enum": sorted(NAMED)},
        pattern(r"\s*#(?:[0-9a-fA-F]{3}|[0-9a-fA-F]{6})\s*"),
        pattern(rf"\s*{_any(NAMED)}\s*"),
    ]
}
BOOLEAN: Final[Schema] = {"anyOf": [{"type": "boolean"}, words(("yes", "no", "true", "false"))]}
_PLACE: Final[Schema] = {"type": "integer", "minimum": 1, "maximum": 5_000}
_RUN: Final[Schema] = {"anyOf": [_PLACE, pattern(_RANGE)]}
POSITION: Final[Schema] = {
    "anyOf": [
        _PLACE,
        pattern(r"\s*0*[1-9][0-9]{0,3}\s*"),
        {"type": "array", "items": _PLACE, "minItems": 1, "maxItems": 1},
    ]
}
POSITIONS: Final[Schema] = {
    "anyOf": [_RUN, words(("all",)), {"type": "array", "items": _RUN, "minItems": 1}]
}
GROUPS: Final[Schema] = {
    "anyOf": [
        pattern(rf"{_RANGE}\s+[bB][yY]\s+0*[1-9][0-9]*\s*"),
        {"type": "array", "items": POSITIONS, "minItems": 1},
    ]
}
BUNDLES: Final[Schema] = {"anyOf": [*GROUPS["anyOf"], pattern(_RANGE)]}
_PIECE: Final = r"\s*(?:[0-9]{1,9}\s+)?[^.]{1,60}"
PIECES: Final = listed(pattern(rf"{_PIECE}\s*"))
NUMBERED: Final = listed(pattern(rf"{_PIECE}(?:\.[0-9]{{1,9}})?\s*"))
STRANDS: Final = listed(pattern(r"[^.]{1,60}\.[0-9]{1,9}[abAB]\s*"))
RETURNS: Final[Schema] = {
    "anyOf": [
        _PLACE | {"maximum": 10**12 - 1},
        pattern(rf"\s*(?:{spelt('after')}\s+)?0*[1-9][0-9]{{0,11}}\s*"),
    ]
}
