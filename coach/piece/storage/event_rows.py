"""Events as rows of the database, each with a checksum that includes piece and place.

A row is readable in any SQLite tool: `counted`, `2030-03-17T17:46:40.000Z`, and the other
fields as a JSON object.
"""

import json
from collections.abc import Mapping, Sequence
from datetime import UTC, datetime, timedelta
from typing import Any, Final, TypeAlias
from zlib import crc32

from coach.piece.event_reading import from_values, read_object
from coach.piece.events import Event
from coach.piece.piece_errors import Damaged
from coach.text import one_line

Row: TypeAlias = tuple[int, bytes, bytes, bytes, int]
"""Place in the piece from 1, kind, time (UTC by ISO 8601), fields as JSON, sum.

Texts are bytes, so that damaged ones are told by their sum and not by an error of decoding.
"""

_SPREAD: Final = 2654435761  # keeps the numbers of neighbouring pieces far apart
_EPOCH: Final = datetime(1970, 1, 1, tzinfo=UTC)
_MS: Final = timedelta(milliseconds=1)


def row_of(piece_id: int, seq: int, event: Event) -> Row:
    """Return the row of an event.

    Args:
        piece_id: The piece's number in the database.
        seq: The event's place in the piece, from 1.
        event: The event.
    """
    return row_of_values(piece_id, seq, event.kind, event.values())


def row_of_values(piece_id: int, seq: int, kind: str, values: Mapping[str, Any]) -> Row:
    """Return the row of an event by its kind and all its fields.

    Args:
        piece_id: The piece's number in the database.
        seq: The event's place in the piece, from 1.
        kind: The kind of the event.
        values: All its fields, by name.

    Raises:
        Damaged: They have no time.
    """
    others = {name: value for name, value in values.items() if name != "at_ms"}
    try:
        at = utc(values["at_ms"])
    except (LookupError, TypeError, OverflowError) as error:
        raise Damaged(f"an entry ‘{kind}’ has no time") from error
    data = json.dumps(others, separators=(",", ":"))
    texts = kind.encode(), at.encode(), data.encode()
    return seq, *texts, placed_sum(piece_id, seq, *texts)


def is_sound(piece_id: int, row: Row) -> bool:
    """Return whether a row is as it was written, and where it was written."""
    seq, *texts, kept = row
    return is_summed(piece_id, seq, texts, kept)


def is_summed(piece_id: int, place: int, texts: Sequence[bytes], kept: int) -> bool:
    """Return whether texts match the checksum stored with them, for this place of a piece.

    Args:
        piece_id: The piece's number in the database.
        place: The event's place in the piece, from 1.
        texts: The texts of the row, in the order of its columns.
        kept: The checksum in the row.
    """
    try:
        return placed_sum(piece_id, place, *texts) == kept
    except TypeError:  # a flipped bit may make nothing, or a number, of a text
        return False


def event_of(row: Row) -> Event:
    """Return the event of a row.

    Raises:
        NewerVersion: A newer coach wrote it.
        Damaged: It is no row that `row_of` returns.
    """
    _, kind, at, data, _ = row
    name = kind.decode("utf-8", "replace")
    values = read_object(name, data.decode("utf-8", "replace"))
    return from_values(name, {"at_ms": ms(at.decode("utf-8", "replace")), **values})


def utc(at_ms: int) -> str:
    """Return a moment, in UTC epoch ms, in ISO 8601 to the millisecond."""
    return (_EPOCH + at_ms * _MS).isoformat(timespec="milliseconds").replace("+00:00", "Z")


def ms(at: str) -> int:
    """Return the UTC epoch ms of a moment that `utc` wrote. Raises Damaged."""
    try:
        return (datetime.fromisoformat(at) - _EPOCH) // _MS
    except (ValueError, TypeError, OverflowError) as error:
        raise Damaged(f"an entry's time cannot be ‘{one_line(str(at))[:40]}’") from error


def placed_sum(piece_id: int, place: int, *texts: bytes) -> int:
    """Return the CRC-32 of texts, seeded with a number unique to this place of a piece."""
    return crc32(b"\x1f".join(texts), (piece_id * _SPREAD + place) % 2**32)


def checksum(*values: object) -> int:
    """Return the CRC-32 of values in order; registered in the database under the same name."""
    return crc32("\x1f".join(map(str, values)).encode("utf-8", "surrogatepass"))
