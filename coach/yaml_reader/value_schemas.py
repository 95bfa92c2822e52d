"""JSON Schemas (draft 2020-12) of single values: the same words that the readers accept.

Patterns are written for both ECMA 262 and Python, so names are spelt out letter by letter.
"""

import re
from collections.abc import Iterable, Sequence
from typing import Any, Final

from coach.quantities.units import Dimension, words_for
from coach.yaml_reader.colours import NAMED
from coach.yaml_reader.declarations import Schema

_APOSTROPHE: Final = "['\u2018\u2019\u02bc\u00b4`\u2032]"
_JOIN: Final = r"[\s_\u2010\u2011-]+"
_NUMBER: Final = (
    r"(?:[0-9]{1,12}\s+[0-9]{1,6}/[0-9]{1,6}|[0-9]{1,12}/[0-9]{1,6}"
    r"|[0-9]{1,12}(?:\.[0-9]{1,12})?|\.[0-9]{1,12}|[0-9]{0,12}\s*[½¼¾⅛⅜⅝⅞⅓⅔])"
)
_PRIMES: Final = "\"'\u2032\u2033\u2019\u201d"


def in_any_case(name: str) -> str:
    """Return a pattern for a name in any case, with any hyphens and apostrophes."""
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
    return f"(?:{'|'.join(in_any_case(name) for name in names)})"


def pattern_schema(inside: str) -> Schema:
    """Return the schema of a text that matches a pattern from end to end."""
    return {"type": "string", "pattern": f"^{inside}$"}


def words_schema(names: Sequence[str]) -> Schema:
    """Return the schema of one of some words, which an editor can complete."""
    return {"anyOf": [{"enum": list(names)}, pattern_schema(rf"[\s_-]*{_any(names)}[\s_-]*")]}


def _unit(of: Dimension, signs: str = "") -> str:
    return rf"(?:{_any(words_for(of))}|[{signs}])" if signs else _any(words_for(of))


def _terms(unit: str) -> str:
    return rf"(?:\s*{_NUMBER}\s*{unit}\s*)+"


def whole_number_schema(least: int = 1, most: int | None = None) -> Schema:
    """Return the schema of a whole number, quoted or not."""
    number: dict[str, Any] = {"type": "integer", "minimum": least}
    if most is not None:
        number["maximum"] = most
    return {"anyOf": [number, pattern_schema(r"\s*0*[1-9][0-9]{0,11}\s*")]}


def list_schema(item: Schema, *, least: int = 1) -> Schema:
    """Return the schema of a list of items, or of a single one without brackets."""
    return {"anyOf": [item, {"type": "array", "items": item, "minItems": least}]}


MOST_LETTERS: Final = 4_000
"""Letters of one text, such as a note."""
TEXT: Final[Schema] = {
    "type": ["string", "number", "boolean"], "pattern": r"\S", "maxLength": MOST_LETTERS,
}  # fmt: skip
TEXTS: Final[Schema] = list_schema(TEXT, least=0)
_NOT_ZERO: Final = "(?=.*[1-9½¼¾⅛⅜⅝⅞⅓⅔])"
_LENGTH: Final = _unit("length", _PRIMES)
_WEIGHT: Final = _unit("weight")
LENGTH: Final = pattern_schema(_terms(_LENGTH))
THICKNESS: Final = pattern_schema(_NOT_ZERO + _terms(_LENGTH))
_PER: Final = rf"(?:\s*/|\s+{in_any_case('per')}\s)"
_WEIGHT_PER_LENGTH: Final = (
    rf"{_terms(one)}{_PER}(?:{_terms(other)}|\s*{bare}\s*)"
    for one, other, bare in ((_WEIGHT, _LENGTH, _unit("length")), (_LENGTH, _WEIGHT, _WEIGHT))
)
FINENESS: Final = pattern_schema(
    f"{_NOT_ZERO}(?:{'|'.join((_terms(_unit('weight per length')), *_WEIGHT_PER_LENGTH))})"
)
TIME: Final = pattern_schema(_terms(_unit("time")))
_BARE: Final = _terms(f"{_unit('time')}?")
TIMES: Final = pattern_schema(rf"(?:{_BARE}(?:[-\u2013\u2212]|to\s))?{_terms(_unit('time'))}")
SHARE: Final = pattern_schema(rf"\s*{_NUMBER}\s*%\s*")
_SLANTING: Final = r"(?!\s*90)(?!\s*[1-9][0-9]{2})"
SLOPE: Final = pattern_schema(_SLANTING + _NOT_ZERO + _terms(_unit("slope", "°\u00ba")))
COLOUR: Final[Schema] = {
    "anyOf": [
        {"enum": sorted(NAMED)},
        pattern_schema(r"\s*#(?:[0-9a-fA-F]{3}|[0-9a-fA-F]{6})\s*"),
        pattern_schema(rf"\s*{_any(NAMED)}\s*"),
    ]
}
BOOLEAN: Final[Schema] = {
    "anyOf": [{"type": "boolean"}, words_schema(("yes", "no", "true", "false"))]
}
