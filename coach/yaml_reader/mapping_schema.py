"""A mapping as JSON Schema, from the declaration of its keys."""

from collections.abc import Iterable
from typing import Any, Final

from coach.yaml_reader.declarations import SYNONYMS, Entry, Key, OneOf, Schema, every_key

OWN_NAME: Final = r"[^\s_\u2010\u2011-]"
"""The pattern of a name of the maker's own: any that is not blank."""

_OTHERS: Final = {
    first: [other for other, known in SYNONYMS.items() if known == first]
    for first in SYNONYMS.values()
}


def mapping(entries: Iterable[Entry]) -> dict[str, Any]:
    """Return a mapping that has these keys, by any of their names, and no others."""
    entries = tuple(entries)
    keys = tuple(every_key(entries))
    choices = [entry for entry in entries if isinstance(entry, OneOf)]
    demands = [
        *(_alone(key) for key in keys if len(_spellings(key)) > 1),
        *(_exactly_one(_spellings(*choice.keys)) for choice in choices if choice.needed),
    ]
    both = [{"required": _spellings(*choice.keys)} for choice in choices if not choice.needed]
    return {
        "type": "object",
        "properties": {
            spelling: {**key.value.schema, "description": key.said}
            for key in keys
            for spelling in _spellings(key)
        },
        "required": [key.name for key in keys if key.needed and key.name not in _OTHERS],
        "additionalProperties": False,
        **({"allOf": demands} if demands else {}),
        **({"not": both[0]} if both else {}),
    }


def some_of(schema: Schema, *keys: Key[Any]) -> dict[str, Any]:
    """Ask that at least one of some keys stands in a mapping."""
    return {**schema, "anyOf": [{"required": [key.name]} for key in keys]}


def by_name(value: Schema, name: str, least: int) -> dict[str, Any]:
    """Return a mapping of at least so many names of the maker's own, which follow a pattern.

    Args:
        value: The schema of each value.
        name: The pattern that each name has to have in it.
        least: How many there have to be.
    """
    return {
        "type": "object",
        "propertyNames": {"pattern": name},
        "additionalProperties": value,
        "minProperties": least,
    }


def _spellings(*keys: Key[Any]) -> list[str]:
    return [spelling for key in keys for spelling in (key.name, *_OTHERS.get(key.name, ()))]


def _alone(key: Key[Any]) -> Schema:
    """Ask for a key under exactly one of its names, at most one where it may be left out."""
    one = _exactly_one(_spellings(key))
    if key.needed:
        return one
    none = {"not": {"anyOf": one["oneOf"]}}
    return {"oneOf": [*one["oneOf"], none]}


def _exactly_one(names: list[str]) -> dict[str, Any]:
    return {"oneOf": [{"required": [name]} for name in names]}
