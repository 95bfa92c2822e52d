"""Reading events from JSON, with every field checked."""

import json
from typing import Any

from coach import __version__
from coach.kept_events import BadEntry, UnknownEntry
from coach.piece.events import PIECE_EVENTS, Event
from coach.piece.piece_errors import Damaged, NewerVersion


def from_json(kind: str, data: str) -> Event:
    """Return an event from a JSON object of its fields. Raises NewerVersion, Damaged."""
    return from_values(kind, read_object(kind, data))


def read_object(kind: str, data: str) -> dict[str, Any]:
    """Return the fields of an event from JSON. Raises Damaged where it is no object."""
    try:
        values = json.loads(data)
    except (ValueError, RecursionError) as error:
        raise Damaged(f"an entry ‘{kind}’ is not JSON") from error
    if not isinstance(values, dict):
        raise Damaged(f"an entry ‘{kind}’ is not a JSON object")
    return values


def from_values(kind: str, values: object) -> Event:
    """Return the event of a kind from its fields by name.

    Raises:
        NewerVersion: This coach does not know the kind, or one of its fields.
        Damaged: The values are not what `Event.values` returns.
    """
    if not isinstance(values, dict):
        raise Damaged(f"an entry ‘{kind}’ is not a JSON object")
    try:
        return PIECE_EVENTS.read(kind, values)
    except UnknownEntry as error:
        raise newer(str(error)) from error
    except BadEntry as error:
        raise Damaged(str(error)) from error


def newer(what: str) -> NewerVersion:
    """Return the error for something in a piece that only a newer coach knows."""
    return NewerVersion(
        f"This piece holds {what}, which coach {__version__} does not know: a newer coach "
        "wrote it. Open the piece with that one, or bring this one up to date."
    )
