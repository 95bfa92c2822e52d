"""The store of pieces: every event is on the disk before it counts."""

import sqlite3
from collections.abc import Sequence
from typing import Any, Final

from coach.piece.events import Event
from coach.piece.piece_errors import Damaged, NameTaken, NotOurs, OutOfTurn, PieceError
from coach.piece.state import State
from coach.piece.storage import snapshots
from coach.piece.storage.desk_book import DeskBook
from coach.piece.storage.event_rows import (
    Row,
    checksum,
    event_of,
    is_sound,
    is_summed,
    placed_sum,
    row_of,
)
from coach.piece.storage.migrations import PIECE_FIELDS, new_id
from coach.piece.storage.sqlite_errors import damaged_error
from coach.piece.storage.state_cache import FOLD, state_of, to_text_of
from coach.piece.storage.summary import LastEntry, Summary
from coach.text import name_key

_PIECE: Final = f"SELECT {', '.join(PIECE_FIELDS)}, sum FROM piece"  # noqa: S608 - our own names
_SUM_UP: Final = f"UPDATE piece SET sum = checksum({', '.join(PIECE_FIELDS)}) WHERE id = ?"  # noqa: S608 - our own names
_ROWS: Final = """
    SELECT seq, CAST(kind AS BLOB), CAST(at AS BLOB), CAST(data AS BLOB), sum FROM event
    WHERE piece = ? AND seq > ? ORDER BY seq
"""
_INSERT: Final = """
    INSERT INTO event (piece, seq, kind, at, data, sum)
    VALUES (?, ?, CAST(? AS TEXT), CAST(? AS TEXT), CAST(? AS TEXT), ?)
"""
FOLDED_EVERY: Final = 128
"""Entries after which it is kept anew how a piece stands; so many at most are folded at opening."""


class Store(DeskBook):
    """The pieces in one database file, with the desk beside them.

    Every method raises a `PieceError` and never an error of SQLite.
    """

    def begin(
        self, name: str, state: State, event: Event, piece_id: int | None = None, uid: str = ""
    ) -> int:
        """Store a new piece with its first event, inside `atomic`, and return its number.

        Args:
            name: The maker's name for the piece.
            state: The state after the event.
            event: The event that begins it.
            piece_id: Its number; None for the next one.
            uid: Its permanent id; without one, or where a piece here has it, a new one.

        Raises:
            NameTaken: Another piece has that name.
        """
        with self.plain_errors():
            taken = self._db.execute("SELECT 1 FROM piece WHERE uid = ?", (uid,)).fetchone()
            try:
                made = self._db.execute(
                    "INSERT INTO piece (id, name, name_key, title, source, begun_ms, touched_ms,"
                    " done, total, worked_ms, uid) VALUES (?, ?, ?, ?, ?, ?, 0, 0, 0, 0, ?)",
                    (
                        piece_id, name, name_key(name), state.title, state.source, state.begun_ms,
                        new_id() if taken or not uid else uid,
                    ),
                )  # fmt: skip
            except sqlite3.IntegrityError as error:
                raise NameTaken(f"A piece is called ‘{name}’ already.") from error
            piece_id = int(made.lastrowid or 0)
            self._insert(piece_id, state.seq, event)
            self._sum_up(piece_id, state)
        return piece_id

    def append(self, piece_id: int, state: State, event: Event) -> None:
        """Store an event and the state after it; it is on the disk when this returns.

        Args:
            piece_id: The piece's number.
            state: The state after the event; `state.seq` is the event's place.
            event: The event.

        Raises:
            OutOfTurn: Another coach has put an event in that place.
        """
        with self.atomic():
            self.extend(piece_id, [(state, event)])

    def append_all(
        self, piece_id: int, last: LastEntry, happened: Sequence[tuple[State, Event]]
    ) -> LastEntry:
        """Store several events after the last known one, all or none.

        Args:
            piece_id: The piece's number.
            last: The last known entry.
            happened: Each event with the state after it.

        Returns:
            The last entry then.

        Raises:
            NotOurs: The piece is not as it was left.
            OutOfTurn: See `append`.
        """
        with self.atomic():
            self.see_same(piece_id, last)
            added = self.extend(piece_id, happened)
        return LastEntry(last.uid, *added[-1]) if added else last

    def extend(
        self, piece_id: int, happened: Sequence[tuple[State, Event]]
    ) -> list[tuple[int, int]]:
        """Store several events, inside `atomic`; return the place and checksum of each."""
        with self.plain_errors():
            added = [self._insert(piece_id, state.seq, event) for state, event in happened]
            if happened:
                self._sum_up(piece_id, happened[-1][0])
                self._keep_folded(piece_id, happened[-1][0])
        return added

    def see_same(self, piece_id: int, last: LastEntry) -> None:
        """Check that a piece is the one worked on, and still has the last known entry.

        Raises:
            NotOurs: It is another, or an older copy, or went another way.
        """
        with self.plain_errors():
            found = self._db.execute(
                "SELECT name FROM piece JOIN event ON piece = id"
                " WHERE id = ? AND uid = ? AND seq = ? AND event.sum = ?",
                (piece_id, last.uid, last.seq, last.sum),
            ).fetchone()
        if not found:
            raise NotOurs(
                f"{self.path} does not hold this piece as you left it: another copy of your pieces "
                "is there now, or another window put another piece in its place."
            )

    def rows_after(self, piece_id: int, seq: int = 0) -> list[Row]:
        """Return the piece's entries after the one at `seq`, in order, as rows.

        Raises:
            Damaged: An entry is not as it was written, or one is missing.
        """
        with self.one_view():
            kept = self.piece(piece_id)
            rows = self._db.execute(_ROWS, (piece_id, seq)).fetchall()
        last = max(seq, kept.events) if kept else seq
        if [row[0] for row in rows] != list(range(seq + 1, last + 1)):
            raise Damaged("an entry is missing")
        if not all(is_sound(piece_id, row) for row in rows):
            raise Damaged("an entry is not as it was written")
        return rows

    def events_after(self, piece_id: int, seq: int = 0) -> tuple[Event, ...]:
        """Return the piece's events after the one at `seq`, in order.

        Raises:
            Damaged: An event cannot be read, or one is missing.
            NewerVersion: A newer coach wrote one of them.
        """
        return tuple(map(event_of, self.rows_after(piece_id, seq)))

    def folded(self, piece_id: int) -> State:
        """Return the last cached state of the piece, or the one before its first event."""
        with self.plain_errors():
            row = self._db.execute(
                "SELECT CAST(data AS BLOB), sum FROM folded WHERE piece = ? AND fold = ?",
                (piece_id, FOLD),
            ).fetchone()
        sound = row is not None and is_summed(piece_id, -FOLD, row[:1], row[1])
        return (state_of(row[0]) if sound else None) or State()

    def pieces(self) -> list[Summary]:
        """Return all pieces, last touched first."""
        with self.plain_errors():
            rows = self._db.execute(f"{_PIECE} ORDER BY touched_ms DESC, id DESC").fetchall()
        return [self._summary(row) for row in rows]

    def piece(self, piece_id: int) -> Summary | None:
        """Return the piece with that number, or None."""
        with self.plain_errors():
            row = self._db.execute(f"{_PIECE} WHERE id = ?", (piece_id,)).fetchone()
        return None if row is None else self._summary(row)

    def rename(self, piece_id: int, name: str) -> None:
        """Rename a piece, inside `atomic`. Raises NameTaken."""
        with self.plain_errors():
            try:
                self._db.execute(
                    "UPDATE piece SET name = ?, name_key = ? WHERE id = ?",
                    (name, name_key(name), piece_id),
                )
            except sqlite3.IntegrityError as error:
                raise NameTaken(f"A piece is called ‘{name}’ already.") from error
            self._db.execute(_SUM_UP, (piece_id,))

    def remove(self, piece_id: int) -> None:
        """Delete a piece with all its events, inside `atomic`."""
        with self.plain_errors():
            self._db.execute("DELETE FROM folded WHERE piece = ?", (piece_id,))
            self._db.execute("DELETE FROM event WHERE piece = ?", (piece_id,))
            self._db.execute("DELETE FROM piece WHERE id = ?", (piece_id,))

    def check(self) -> None:
        """Check the whole file and all checksums. Raises Damaged."""
        self.check_pages()
        try:
            self.desk_events()
        except Damaged as error:
            raise damaged_error(self.path, str(error)) from error
        for piece in self.pieces():
            try:
                self.rows_after(piece.id)
            except Damaged as error:
                raise damaged_error(self.path, str(error)) from error

    def snapshot(self, now_ms: int) -> bool:
        """Take a snapshot of all pieces, unless something is broken; return whether it did.

        A broken file must not push the intact snapshots out.
        """
        try:
            self.check()
            with self.plain_errors():
                snapshots.take_snapshot(self._db, self.path, now_ms)
        except (PieceError, OSError):
            return False
        return True

    def _summary(self, row: tuple[Any, ...]) -> Summary:
        *values, kept = row
        if checksum(*values) != kept:
            raise damaged_error(self.path, "what it says of a piece is not as it was written")
        found = dict(zip(PIECE_FIELDS, values, strict=True))
        return Summary(**found)

    def _insert(self, piece_id: int, seq: int, event: Event) -> tuple[int, int]:
        """Insert an event at its place and return the place and the checksum."""
        row = row_of(piece_id, seq, event)
        try:
            self._db.execute(_INSERT, (piece_id, *row))
        except sqlite3.IntegrityError as error:
            if error.sqlite_errorcode != sqlite3.SQLITE_CONSTRAINT_PRIMARYKEY:
                raise
            raise OutOfTurn("Another coach has just written to this piece.") from error
        return seq, row[-1]

    def _sum_up(self, piece_id: int, state: State) -> None:
        """Update the piece's summary from its state."""
        found = self._db.execute(
            "UPDATE piece SET touched_ms = ?, done = ?, total = ?, worked_ms = ?, events = ?"
            " WHERE id = ?",
            (state.touched_ms, state.done, state.total, state.worked_ms, state.seq, piece_id),
        )
        if not found.rowcount:
            raise damaged_error(self.path, "it has no line for a piece that something happened to")
        self._db.execute(_SUM_UP, (piece_id,))

    def _keep_folded(self, piece_id: int, state: State) -> None:
        """Cache the state, if that was not done for a while."""
        found = self._db.execute(
            "SELECT seq FROM folded WHERE piece = ? AND fold = ?", (piece_id, FOLD)
        ).fetchone()
        if state.seq - (found[0] if found else 0) >= FOLDED_EVERY:
            data = to_text_of(state)
            self._db.execute(
                "REPLACE INTO folded (piece, fold, seq, data, sum) VALUES (?, ?, ?, ?, ?)",
                (piece_id, FOLD, state.seq, data, placed_sum(piece_id, -FOLD, data.encode())),
            )
