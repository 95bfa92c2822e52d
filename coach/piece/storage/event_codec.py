"""Entries as they stand in the database: an event in few bytes, and a sum that guards them.

A sum begins from a number that says where the entry stands, so that one that has got to another
place is noticed as a flipped bit is.
"""

import struct
from collections.abc import Sequence
from contextlib import suppress
from struct import Struct
from typing import Any, Final
from zlib import crc32

from coach.knots import names
from coach.piece.events import Counted, Event, TakenBack, from_text, newer
from coach.piece.piece_errors import Damaged, NewerVersion
from coach.piece.storage.migrations import checksum

_SUM_BYTES: Final = 4
_RESIDUE: Final = 0x2144DF1C  # the CRC-32 of whatever has its own CRC-32 at its end
_SPREAD: Final = 2654435761  # keeps the numbers of neighbouring pieces far apart
PLACES: Final = 2**32
"""How many numbers each piece has for its entries."""

# The first byte tells the form; above these it is the first letter of a kind, then JSON.
_COUNTED, _MIXED, _TAKEN_BACK = 1, 2, 3
_FORMS: Final = {
    # form, at_ms, tick_ms, sitting, count, from_done, and the knot's number or `expected_s`
    _COUNTED: Struct("<BQQIIIB"),
    _MIXED: Struct("<BQQIIId"),
    _TAKEN_BACK: Struct("<BQQIII"),
}
_LAST_FORM: Final = 31
# What is kept by makers is never changed, only added to at the end.
_KNOTS: Final = (
    "", names.CLOVE, names.REVERSE_CLOVE, names.HALF_HITCH, names.LARKS_HEAD,
    names.REVERSE_LARKS_HEAD, names.SQUARE, names.REVERSE_SQUARE, names.HALF_KNOT,
    names.REVERSE_HALF_KNOT, names.CHAIN, names.JOSEPHINE, names.OVERHAND, names.DOUBLE_OVERHAND,
    names.BARREL, names.GATHERING, names.BERRY,
)  # fmt: skip
_SHORT: Final = (Counted.kind, TakenBack.kind)
_NUMBERS: Final = {knot: number for number, knot in enumerate(_KNOTS)}


def entry_id(piece_id: int, seq: int) -> int:
    """Return the number of the entry that is the piece's `seq`th, from 1."""
    return piece_id * PLACES + seq


def summed(data: bytes, piece_id: int, place: int) -> bytes:
    """Return data with its sum behind it, for this place of a piece."""
    return data + crc32(data, _start(piece_id, place)).to_bytes(_SUM_BYTES, "little")


def bare(entry: bytes) -> bytes:
    """Return an entry without its sum."""
    return entry[:-_SUM_BYTES]


def are_sound(entries: Sequence[bytes], piece_id: int, first: int) -> bool:
    """Return whether a piece's entries, from place `first` on, are all as they were written."""
    start = _start(piece_id, first)
    try:
        return set(map(crc32, entries, range(start, start + len(entries)))) <= {_RESIDUE}
    except TypeError:  # a flipped bit may make text or a number of it
        return False


def _start(piece_id: int, place: int) -> int:
    return (piece_id * _SPREAD + place) % 2**32


def packed(event: Event) -> bytes:
    """Return an event in as few bytes as hold all of it; what is rare is written out as JSON."""
    with suppress(KeyError, struct.error):  # a knot without a number, or a figure beyond its room
        if isinstance(event, Counted) and event.standard_s:
            return event.to_text().encode()
        if isinstance(event, Counted) and not event.expected_s:
            return _FORMS[_COUNTED].pack(_COUNTED, *_head(event), _NUMBERS[event.knot])
        if isinstance(event, Counted) and not event.knot:
            return _FORMS[_MIXED].pack(_MIXED, *_head(event), event.expected_s)
        if isinstance(event, TakenBack):
            return _FORMS[_TAKEN_BACK].pack(_TAKEN_BACK, *_head(event))
    return event.to_text().encode()


def unpacked(data: bytes) -> Event:
    """Return back the event that `packed` was given.

    Raises:
        NewerVersion: A newer coach wrote it.
        Damaged: It is not what `packed` gives.
    """
    if not data or data[0] > _LAST_FORM:
        return from_text(data.decode("utf-8", "replace"))
    if data[0] not in _FORMS:
        raise newer("an entry of another form")
    try:
        form, at_ms, tick_ms, sitting, count, from_done, *more = _FORMS[data[0]].unpack(data)
        knot = _KNOTS[more[0]] if form == _COUNTED else ""
    except (struct.error, IndexError) as error:
        raise Damaged("an entry is not of the length or the knot that its form has") from error
    if form == _TAKEN_BACK:
        return TakenBack(
            at_ms=at_ms, tick_ms=tick_ms, sitting=sitting, count=count, from_done=from_done
        )
    return Counted(
        at_ms=at_ms, tick_ms=tick_ms, sitting=sitting, count=count, from_done=from_done,
        knot=knot, expected_s=more[0] if form == _MIXED else 0.0,
    )  # fmt: skip


def _head(event: Counted | TakenBack) -> tuple[int, ...]:
    return event.at_ms, event.tick_ms, event.sitting, event.count, event.from_done


def moved_over(*columns: Any) -> bytes | None:
    """Return an entry of layout 2 as it is kept now, None where it is not as it was written.

    Args:
        columns: Number of the piece, place of the entry, kind, when, fields as JSON, sum.
    """
    *row, kept = columns
    if checksum(*row) != kept:
        return None
    piece_id, seq, kind, _, data = row
    entry = f"{kind}{data}".encode()
    with suppress(Damaged, NewerVersion):  # told when the piece is opened
        entry = packed(from_text(entry.decode())) if kind in _SHORT else entry
    return summed(entry, piece_id, seq)
