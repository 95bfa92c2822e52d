"""JSON Schemas of mappings, from the declarations of their keys."""

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
    """Return the schema of a mapping with these keys, by any of their names, and no others."""
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
    """Return a schema that requires at least one of some keys."""
    return {**schema, "anyOf": [{"required": [key.name]} for key in keys]}


def by_name(value: Schema, name: str, least: int) -> dict[str, Any]:
    """Return the schema of a mapping from the maker's own names.

    Args:
        value: The schema of each value.
        name: The pattern that each name must contain.
        least: The least number of entries.
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
    """Return a schema that requires a key under one of its names, at most once if optional."""
    one = _exactly_one(_spellings(key))
    if key.needed:
        return one
    none = {"not": {"anyOf": one["oneOf"]}}
    return {"oneOf": [*one["oneOf"], none]}


def _exactly_one(names: list[str]) -> dict[str, Any]:
    return {"oneOf": [{"required": [name]} for name in names]}
