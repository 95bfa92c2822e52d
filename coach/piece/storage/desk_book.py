"""The table of desk events: stock and orders, stored as safely as counts.

It is one sequence beside the pieces, keyed by place, each entry with its checksum.
"""

import sqlite3
from collections.abc import Sequence
from typing import Final

from coach import orders
from coach.kept_events import BadEntry, UnknownEntry
from coach.piece.event_reading import newer, read_object
from coach.piece.piece_errors import CannotBe, Damaged, OutOfTurn
from coach.piece.storage.database import Database
from coach.piece.storage.event_rows import Row, is_sound, ms, row_of_values

BOOK: Final = "desk"
_PLACE: Final = 0  # no piece has this number: the sums of the desk begin from it
_ROWS: Final = """
    SELECT seq, CAST(kind AS BLOB), CAST(at AS BLOB), CAST(data AS BLOB), sum FROM desk
    WHERE book = ? AND seq > ? ORDER BY seq
"""
_ANY: Final = "SELECT 1 FROM desk WHERE book = ? LIMIT 1"
_INSERT: Final = """
    INSERT INTO desk (book, seq, kind, at, data, sum)
    VALUES (?, ?, CAST(? AS TEXT), CAST(? AS TEXT), CAST(? AS TEXT), ?)
"""


class DeskBook(Database):
    """A database with the events of the desk."""

    def has_desk(self) -> bool:
        """Return whether there is any event of the desk."""
        with self.plain_errors():
            return self._db.execute(_ANY, (BOOK,)).fetchone() is not None

    def desk_events(self, seq: int = 0) -> "tuple[orders.DeskEvent, ...]":
        """Return the desk events after the entry at `seq`, in order.

        Raises:
            Damaged: An entry is not as it was written, or one is missing.
            NewerVersion: A newer coach wrote one.
        """
        with self.plain_errors():
            rows = self._db.execute(_ROWS, (BOOK, seq)).fetchall()
        if [row[0] for row in rows] != list(range(seq + 1, seq + len(rows) + 1)):
            raise Damaged("an entry of the desk is missing")
        return tuple(map(desk_event_of, rows))

    def add_to_desk(self, seq: int, happened: "Sequence[orders.DeskEvent]") -> int:
        """Store events after the entry at `seq`; return the last place then.

        They are on the disk when this returns, or with the rest of an `atomic` block.

        Raises:
            CannotBe: An event is invalid, or the desk has too many; none is stored.
            OutOfTurn: Another coach has put an entry there.
        """
        _judged(seq, happened)
        with self.atomic(), self.plain_errors():
            for place, event in enumerate(happened, start=seq + 1):
                row = row_of_values(_PLACE, place, event.kind, event.values())
                try:
                    self._db.execute(_INSERT, (BOOK, *row))
                except sqlite3.IntegrityError as error:
                    raise OutOfTurn("Another coach has just written to the desk.") from error
        return seq + len(happened)

    def write_desk_anew(self, happened: "Sequence[orders.DeskEvent]") -> None:
        """Replace all desk events, as on import of a file."""
        with self.atomic():
            with self.plain_errors():
                self._db.execute("DELETE FROM desk WHERE book = ?", (BOOK,))
            self.add_to_desk(0, happened)


def _judged(seq: int, happened: "Sequence[orders.DeskEvent]") -> None:
    if seq + len(happened) > orders.MOST_ENTRIES:
        raise CannotBe(f"The desk has {seq:,} entries; it can hold {orders.MOST_ENTRIES:,}.")
    try:
        for event in happened:
            orders.checked_desk_event(event)
    except BadEntry as error:
        raise CannotBe(str(error)) from error


def desk_event_of(row: Row) -> "orders.DeskEvent":
    """Return the event of a row of the desk. Raises Damaged, NewerVersion."""
    if not is_sound(_PLACE, row):
        raise Damaged("an entry of the desk is not as it was written")
    _, kind, at, data, _ = row
    name = kind.decode("utf-8", "replace")
    values = read_object(name, data.decode("utf-8", "replace"))
    try:
        return orders.DESK_EVENTS.read(name, {"at_ms": ms(at.decode("utf-8", "replace")), **values})
    except UnknownEntry as error:
        raise newer(str(error)) from error
    except BadEntry as error:
        raise Damaged(str(error)) from error
