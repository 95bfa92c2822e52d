"""The packed entries of layout 3, read for migration and recovery, never written.

An entry was one blob followed by its checksum: the number of a form and then fixed fields, or the
kind of the event and then its fields as JSON.
"""

import sqlite3
import struct
from struct import Struct
from typing import Any, Final

from coach.knots import names
from coach.piece.event_reading import newer, read_object
from coach.piece.events import Counted, TakenBack
from coach.piece.piece_errors import Damaged
from coach.piece.storage.event_rows import Row, checksum, placed_sum, row_of_values

PLACES: Final = 2**32
"""How many numbers each piece had for its entries: piece 2's third entry was 2 * PLACES + 3."""

_SUM_BYTES: Final = 4
_HEAD: Final = ("at_ms", "tick_ms", "sitting", "count", "from_done")
# The first byte tells the form; above these it is the first letter of a kind, then JSON.
_COUNTED, _MIXED, _TAKEN_BACK = 1, 2, 3
_FORMS: Final = {
    # form, the fields of the head, and the knot's number or `expected_s`
    _COUNTED: Struct("<BQQIIIB"),
    _MIXED: Struct("<BQQIIId"),
    _TAKEN_BACK: Struct("<BQQIII"),
}
_LAST_FORM: Final = 31
_KNOTS: Final = (
    "", names.CLOVE, names.REVERSE_CLOVE, names.HALF_HITCH, names.LARKS_HEAD,
    names.REVERSE_LARKS_HEAD, names.SQUARE, names.REVERSE_SQUARE, names.HALF_KNOT,
    names.REVERSE_HALF_KNOT, names.CHAIN, names.JOSEPHINE, names.OVERHAND, names.DOUBLE_OVERHAND,
    names.BARREL, names.GATHERING, names.BERRY,
)  # fmt: skip


def with_sum(data: bytes, piece_id: int, place: int) -> bytes:
    """Return data followed by its checksum, for this place of a piece.

    Args:
        data: The bytes of an entry of layouts 1 to 3.
        piece_id: The piece's number in the database.
        place: The number of the entry in it, from 1.
    """
    return data + placed_sum(piece_id, place, data).to_bytes(_SUM_BYTES, "little")


def without_sum(entry: bytes) -> bytes:
    """Return an entry without its checksum."""
    return entry[:-_SUM_BYTES]


def is_whole(entry: object, piece_id: int, place: int) -> bool:
    """Return whether an entry is as it was written, and where it was written.

    Args:
        entry: The bytes of an entry of layouts 1 to 3, with their checksum.
        piece_id: The piece's number in the database.
        place: The number of the entry in it, from 1.
    """
    # a flipped bit may make text or a number of it
    return isinstance(entry, bytes) and with_sum(without_sum(entry), piece_id, place) == entry


def unpack_entry(data: bytes) -> tuple[str, dict[str, Any]]:
    """Return the kind and the fields of an entry without its checksum.

    Raises:
        NewerVersion: A newer coach wrote it.
        Damaged: It is no entry of layout 3.
    """
    if not data or data[0] > _LAST_FORM:
        kind, brace, rest = data.decode("utf-8", "replace").partition("{")
        return kind, read_object(kind, brace + rest)
    if data[0] not in _FORMS:
        raise newer("an entry of another form")
    try:
        form, *fields = _FORMS[data[0]].unpack(data)
        values = dict(zip(_HEAD, fields, strict=False))
        if form == _TAKEN_BACK:
            return TakenBack.kind, values
        knot, expected_s = (_KNOTS[fields[-1]], 0.0) if form == _COUNTED else ("", fields[-1])
    except (struct.error, IndexError) as error:
        raise Damaged("an entry is not of the length or the knot that its form has") from error
    return Counted.kind, {**values, "knot": knot, "expected_s": expected_s}


def packed_row(number: int, entry: bytes) -> Row:
    """Return an entry, with the number that it had, as a row. Raises Damaged, NewerVersion."""
    piece_id, seq = divmod(number, PLACES)
    if not is_whole(entry, piece_id, seq):
        raise Damaged("an entry is not as it was written")
    return row_of_values(piece_id, seq, *unpack_entry(without_sum(entry)))


def into_rows(db: sqlite3.Connection) -> None:
    """Copy the entries of layout 3, in `packed`, into the rows of layout 4, in `event`.

    Raises:
        Damaged: An entry is not as it was written.
    """
    db.executemany(
        "INSERT INTO event VALUES (?, ?, CAST(? AS TEXT), CAST(? AS TEXT), CAST(? AS TEXT), ?)",
        (
            (number // PLACES, *packed_row(number, entry))
            for number, entry in db.execute("SELECT id, data FROM packed ORDER BY id")
        ),
    )


def moved_over(*columns: Any) -> bytes | None:
    """Return an entry of layout 2 in the form of layout 3, None where it is damaged.

    Args:
        columns: Number of the piece, place of the entry, kind, when, fields as JSON, checksum.
    """
    *row, kept = columns
    if checksum(*row) != kept:
        return None
    piece_id, seq, kind, _, data = row
    return with_sum(f"{kind}{data}".encode(), piece_id, seq)
