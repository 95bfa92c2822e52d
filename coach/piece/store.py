"""The pieces in the database: every event is on the disk before it counts."""

import sqlite3
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from typing import Any, Final

from coach.piece.database import Database
from coach.piece.events import Event, from_json
from coach.piece.problems import Damaged, NameTaken, OutOfTurn
from coach.piece.state import State

_SUMMARY: Final = "SELECT id, name, title, source, done, total, worked_ms, touched_ms FROM piece"


@dataclass(frozen=True, slots=True)
class Summary:
    """One piece in a list: how far it is and when it was last touched (UTC epoch ms)."""

    id: int
    name: str
    title: str
    source: str
    done: int
    total: int
    worked_ms: int
    touched_ms: int

    @property
    def finished(self) -> bool:
        """Whether all counts have been made."""
        return self.done >= self.total

    @property
    def touched(self) -> str:
        """When it was last touched, in UTC by ISO 8601, to the second."""
        at = datetime(1970, 1, 1, tzinfo=UTC) + timedelta(milliseconds=self.touched_ms)
        return f"{at:%Y-%m-%dT%H:%M:%SZ}"

    def to_data(self) -> dict[str, Any]:
        """Give what other programs are shown; `worked_s` is in whole seconds."""
        return {
            "name": self.name,
            "title": self.title,
            "done": self.done,
            "total": self.total,
            "worked_s": self.worked_ms // 1000,
            "touched": self.touched,
        }


class Store(Database):
    """The pieces in one database file.

    Every method raises a `PieceError` and never an error of SQLite.
    """

    def begin(self, name: str, state: State, event: Event) -> int:
        """Keep a new piece with its first event, inside `atomic`; gives its number.

        Args:
            name: The maker's name for the piece.
            state: How the piece stands after the event.
            event: The event that begins it.

        Raises:
            NameTaken: Another piece has that name.
        """
        row = (
            name, name_key(name), state.title, state.source, state.begun_ms, state.touched_ms,
            state.done, state.total, state.worked_ms,
        )  # fmt: skip
        with self.plain_errors():
            try:
                made = self._db.execute(
                    "INSERT INTO piece (name, name_key, title, source, begun_ms, touched_ms,"
                    " done, total, worked_ms) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)",
                    row,
                )
            except sqlite3.IntegrityError as error:
                raise NameTaken(f"A piece is called “{name}” already.") from error
            piece_id = int(made.lastrowid or 0)
            self._insert(piece_id, state.seq, event)
        return piece_id

    def append(self, piece_id: int, state: State, event: Event) -> None:
        """Keep an event and how the piece stands after it; it is on the disk when this returns.

        Args:
            piece_id: The piece's number.
            state: How the piece stands after the event; `state.seq` is the event's place.
            event: What happened.

        Raises:
            OutOfTurn: Another coach has put an event in that place.
        """
        with self.atomic():
            self._insert(piece_id, state.seq, event)
            self._db.execute(
                "UPDATE piece SET touched_ms = ?, done = ?, total = ?, worked_ms = ? WHERE id = ?",
                (state.touched_ms, state.done, state.total, state.worked_ms, piece_id),
            )

    def events_after(self, piece_id: int, seq: int = 0) -> tuple[Event, ...]:
        """Give the piece's events after the one at `seq`, in their order.

        Raises:
            Damaged: An event cannot be read, or one is missing.
            NewerVersion: A newer coach wrote one of them.
        """
        with self.plain_errors():
            rows = self._db.execute(
                "SELECT seq, kind, data FROM event WHERE piece_id = ? AND seq > ? ORDER BY seq",
                (piece_id, seq),
            ).fetchall()
        if [row[0] for row in rows] != list(range(seq + 1, seq + 1 + len(rows))):
            raise Damaged("an entry is missing")
        return tuple(from_json(kind, data) for _, kind, data in rows)

    def pieces(self) -> list[Summary]:
        """Give all pieces, last touched first."""
        with self.plain_errors():
            rows = self._db.execute(f"{_SUMMARY} ORDER BY touched_ms DESC, id DESC").fetchall()
        return [Summary(*row) for row in rows]

    def piece(self, piece_id: int) -> Summary | None:
        """Give the piece with that number, or None."""
        with self.plain_errors():
            row = self._db.execute(f"{_SUMMARY} WHERE id = ?", (piece_id,)).fetchone()
        return None if row is None else Summary(*row)

    def _insert(self, piece_id: int, seq: int, event: Event) -> None:
        try:
            self._db.execute(
                "INSERT INTO event (piece_id, seq, kind, at_ms, data) VALUES (?, ?, ?, ?, ?)",
                (piece_id, seq, event.kind, event.at_ms, event.to_json()),
            )
        except sqlite3.IntegrityError as error:
            if error.sqlite_errorcode != sqlite3.SQLITE_CONSTRAINT_PRIMARYKEY:
                raise
            raise OutOfTurn("Another coach has just written to this piece.") from error


def name_key(name: str) -> str:
    """Give a name as names of pieces are compared: without regard to case or spacing."""
    return " ".join(name.split()).casefold()
