"""Events out of JSON: every field is looked at before an event is made of it."""

import json
from collections.abc import Mapping
from dataclasses import fields
from math import inf
from typing import Any, Final, get_origin

from coach import __version__
from coach.piece.events import KINDS, Event
from coach.piece.piece_errors import Damaged, NewerVersion

MOST: Final = 2**47
"""Milliseconds until the year 6429, and more than anything that is counted."""

_TYPES: Final[Mapping[str, Mapping[str, Any]]] = {
    kind: {field.name: get_origin(field.type) or field.type for field in fields(known)}
    for kind, known in KINDS.items()
}


def from_json(kind: str, data: str) -> Event:
    """Read an event whose fields are one JSON object. Raises NewerVersion, Damaged."""
    return from_values(kind, read_object(kind, data))


def read_object(kind: str, data: str) -> dict[str, Any]:
    """Read the fields of an event of a kind from JSON. Raises Damaged where it is no object."""
    try:
        values = json.loads(data)
    except (ValueError, RecursionError) as error:
        raise Damaged(f"an entry “{kind}” is not JSON") from error
    if not isinstance(values, dict):
        raise Damaged(f"an entry “{kind}” is not a JSON object")
    return values


def from_values(kind: str, values: object) -> Event:
    """Return the event of a kind whose fields are `values`, by name.

    Raises:
        NewerVersion: This coach knows no such kind, or not all of its fields.
        Damaged: The values are not what `Event.values` returns.
    """
    known = KINDS.get(kind)
    if known is None:
        raise newer(f"an entry of the kind “{kind}”")
    if not isinstance(values, dict):
        raise Damaged(f"an entry “{kind}” is not a JSON object")
    types = _TYPES[kind]
    unknown = sorted(values.keys() - types.keys())
    if unknown:
        raise newer(f"“{unknown[0]}” in an entry “{kind}”")
    for name, value in values.items():
        _check(kind, name, value, types[name])
    try:
        return known(**values)
    except TypeError as error:
        raise Damaged(f"an entry “{kind}” lacks something") from error


def _check(kind: str, name: str, value: object, wanted: type) -> None:
    """Refuse a value of another type than the field's; JSON writes a whole float as an int too."""
    expected = (int, float) if wanted is float else wanted
    unfit = isinstance(value, bool) or not isinstance(value, expected)
    beyond = isinstance(value, int) and not 0 <= value <= MOST
    if unfit or beyond or (isinstance(value, float) and not 0 <= value < inf):
        raise Damaged(f"“{name}” of an entry “{kind}” cannot be {value!r}")


def newer(what: str) -> NewerVersion:
    """Return the error that tells of something in a piece that only a newer coach knows."""
    return NewerVersion(
        f"This piece holds {what}, which coach {__version__} does not know: a newer coach "
        "wrote it. Open the piece with that one, or bring this one up to date."
    )
