"""The pieces in the database: every event is on the disk before it counts."""

import sqlite3
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from typing import Any, Final

from coach.piece.events import Event
from coach.piece.piece_errors import Damaged, NameTaken, OutOfTurn, PieceError
from coach.piece.state import State
from coach.piece.storage import snapshots
from coach.piece.storage.database import Database
from coach.piece.storage.event_codec import are_sound, bare, entry_id, packed, summed, unpacked
from coach.piece.storage.migrations import PIECE_FIELDS, checksum
from coach.piece.storage.state_cache import FOLD, state_of, to_data_of

_PIECE: Final = f"SELECT {', '.join(PIECE_FIELDS)}, sum FROM piece"  # noqa: S608 - our own names
_SUM_UP: Final = f"UPDATE piece SET sum = checksum({', '.join(PIECE_FIELDS)}) WHERE id = ?"  # noqa: S608 - our own names
_AMONG: Final = "FROM event WHERE id > ? AND id < ?"
FOLDED_EVERY: Final = 128
"""Entries after which it is kept anew how a piece stands; so many at most are folded at opening."""


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
    begun_ms: int = 0
    events: int = 0

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
        """Return what other programs are shown; `worked_s` is in whole seconds."""
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

    def begin(self, name: str, state: State, event: Event, piece_id: int | None = None) -> int:
        """Keep a new piece with its first event, inside `atomic`; gives its number.

        Args:
            name: The maker's name for the piece.
            state: How the piece stands after the event.
            event: The event that begins it.
            piece_id: The number that it is to have; without one it gets the next.

        Raises:
            NameTaken: Another piece has that name.
        """
        with self.plain_errors():
            try:
                made = self._db.execute(
                    "INSERT INTO piece (id, name, name_key, title, source, begun_ms, touched_ms,"
                    " done, total, worked_ms) VALUES (?, ?, ?, ?, ?, ?, 0, 0, 0, 0)",
                    (piece_id, name, name_key(name), state.title, state.source, state.begun_ms),
                )
            except sqlite3.IntegrityError as error:
                raise NameTaken(f"A piece is called “{name}” already.") from error
            piece_id = int(made.lastrowid or 0)
            self._insert(piece_id, state.seq, event)
            self._sum_up(piece_id, state)
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
        self.append_all(piece_id, [(state, event)])

    def append_all(self, piece_id: int, happened: Sequence[tuple[State, Event]]) -> None:
        """Keep several events, all of them or none; see `append`."""
        with self.atomic():
            self.extend(piece_id, happened)

    def extend(self, piece_id: int, happened: Sequence[tuple[State, Event]]) -> None:
        """Keep several events, inside `atomic`."""
        with self.plain_errors():
            for state, event in happened:
                self._insert(piece_id, state.seq, event)
            if happened:
                self._sum_up(piece_id, happened[-1][0])
                self._keep_folded(piece_id, happened[-1][0])

    def entries_after(self, piece_id: int, seq: int = 0) -> list[bytes]:
        """Return the piece's entries after the one at `seq`, in their order, as they are kept.

        Raises:
            Damaged: An entry is not as it was written, or one is missing.
        """
        with self.one_view():
            kept = self.piece(piece_id)
            among = (entry_id(piece_id, seq), entry_id(piece_id + 1, 0))
            rows = self._db.execute(f"SELECT data {_AMONG} ORDER BY id", among).fetchall()
            (last,) = self._db.execute(f"SELECT max(id) {_AMONG}", among).fetchone()
        entries = [data for (data,) in rows]
        there = max(0, kept.events - seq) if kept else 0
        if len(entries) != there or (there and last != entry_id(piece_id, seq + there)):
            raise Damaged("an entry is missing")
        if not are_sound(entries, piece_id, seq + 1):
            raise Damaged("an entry is not as it was written")
        return entries

    def events_after(self, piece_id: int, seq: int = 0) -> tuple[Event, ...]:
        """Return the piece's events after the one at `seq`, in their order.

        Raises:
            Damaged: An event cannot be read, or one is missing.
            NewerVersion: A newer coach wrote one of them.
        """
        return tuple(unpacked(bare(entry)) for entry in self.entries_after(piece_id, seq))

    def folded(self, piece_id: int) -> State:
        """Return the state of the piece that was kept last, or its beginning."""
        with self.plain_errors():
            row = self._db.execute(
                "SELECT data FROM folded WHERE piece_id = ? AND fold = ?", (piece_id, FOLD)
            ).fetchone()
        sound = row is not None and are_sound(row, piece_id, -FOLD)
        return (state_of(bare(row[0])) if sound else None) or State()

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

    def remove(self, piece_id: int) -> None:
        """Take a piece out with all its events, inside `atomic`."""
        with self.plain_errors():
            self._db.execute("DELETE FROM folded WHERE piece_id = ?", (piece_id,))
            among = (entry_id(piece_id, 0), entry_id(piece_id + 1, 0))
            self._db.execute(f"DELETE {_AMONG}", among)
            self._db.execute("DELETE FROM piece WHERE id = ?", (piece_id,))

    def check(self) -> None:
        """Look through the whole file and all sums. Raises Damaged."""
        self.check_pages()
        for piece in self.pieces():
            try:
                self.entries_after(piece.id)
            except Damaged as error:
                raise self._damaged(str(error)) from error

    def snapshot(self, now_ms: int) -> bool:
        """Keep a copy of all pieces, unless something in them is broken; gives whether it did.

        A broken file must not push the sound copies out.
        """
        try:
            self.check()
            with self.plain_errors():
                snapshots.take(self._db, self.path, now_ms)
        except (PieceError, OSError):
            return False
        return True

    def _summary(self, row: tuple[Any, ...]) -> Summary:
        *values, kept = row
        if checksum(*values) != kept:
            raise self._damaged("what it says of a piece is not as it was written")
        found = dict(zip(PIECE_FIELDS, values, strict=True))
        return Summary(**found)

    def _insert(self, piece_id: int, seq: int, event: Event) -> None:
        try:
            self._db.execute(
                "INSERT INTO event (id, data) VALUES (?, ?)",
                (entry_id(piece_id, seq), summed(packed(event), piece_id, seq)),
            )
        except sqlite3.IntegrityError as error:
            if error.sqlite_errorcode != sqlite3.SQLITE_CONSTRAINT_PRIMARYKEY:
                raise
            raise OutOfTurn("Another coach has just written to this piece.") from error

    def _sum_up(self, piece_id: int, state: State) -> None:
        """Write how the piece stands into its line of the list."""
        found = self._db.execute(
            "UPDATE piece SET touched_ms = ?, done = ?, total = ?, worked_ms = ?, events = ?"
            " WHERE id = ?",
            (state.touched_ms, state.done, state.total, state.worked_ms, state.seq, piece_id),
        )
        if not found.rowcount:
            raise self._damaged("it has no line for a piece that something happened to")
        self._db.execute(_SUM_UP, (piece_id,))

    def _keep_folded(self, piece_id: int, state: State) -> None:
        """Keep how the piece stands, if that was not done for a while."""
        found = self._db.execute(
            "SELECT seq FROM folded WHERE piece_id = ? AND fold = ?", (piece_id, FOLD)
        ).fetchone()
        if state.seq - (found[0] if found else 0) >= FOLDED_EVERY:
            self._db.execute(
                "REPLACE INTO folded (piece_id, fold, seq, data) VALUES (?, ?, ?, ?)",
                (piece_id, FOLD, state.seq, summed(to_data_of(state), piece_id, -FOLD)),
            )


def name_key(name: str) -> str:
    """Return a name as names of pieces are compared: without regard to case or spacing."""
    return " ".join(name.split()).casefold()
