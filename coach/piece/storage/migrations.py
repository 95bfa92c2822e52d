"""The tables of the database, and the migrations of older layouts."""

import sqlite3
from collections.abc import Callable
from secrets import token_hex
from typing import Final, TypeAlias

from coach.piece.piece_errors import Damaged
from coach.piece.storage.event_rows import checksum
from coach.piece.storage.packed_events import into_rows

Step: TypeAlias = str | Callable[[sqlite3.Connection], None]
"""A statement, or what does the work where none can; it raises Damaged."""

APPLICATION_ID: Final = 0x636F6163  # "coac", so that other programs' databases are told apart

# What the sums of a row are made of, in this order; what belongs to the sum belongs to the layout.
_EVENT_FIELDS: Final = ("piece_id", "seq", "kind", "at_ms", "data")  # until layout 2
_FORMER_FIELDS: Final = (
    "id", "name", "title", "source", "begun_ms", "touched_ms", "done", "total", "worked_ms",
    "events",
)  # fmt: skip
PIECE_FIELDS: Final = (*_FORMER_FIELDS, "uid")


def new_id() -> str:
    """Return a random id that nothing else has."""
    return token_hex(16)


def _name_pieces(db: sqlite3.Connection) -> None:
    """Add an id to every piece, and a checksum that includes it, where the old one is right."""
    found = db.execute(f"SELECT {', '.join(_FORMER_FIELDS)}, sum FROM piece").fetchall()  # noqa: S608 - our own names
    for *fields, kept in found:
        if checksum(*fields) != kept:
            raise Damaged("what it says of a piece is not as it was written")
        uid = new_id()
        db.execute(
            "UPDATE piece SET uid = ?, sum = ? WHERE id = ?",
            (uid, checksum(*fields, uid), fields[0]),
        )


# One entry a version; what is kept by makers is never changed, only added to.
MIGRATIONS: Final[tuple[tuple[Step, ...], ...]] = (
    (
        """
        CREATE TABLE piece (
            id INTEGER PRIMARY KEY,
            name TEXT NOT NULL,
            name_key TEXT NOT NULL UNIQUE,
            title TEXT NOT NULL,
            source TEXT NOT NULL,
            begun_ms INTEGER NOT NULL,
            touched_ms INTEGER NOT NULL,
            done INTEGER NOT NULL,
            total INTEGER NOT NULL,
            worked_ms INTEGER NOT NULL
        )
        """,
        """
        CREATE TABLE event (
            piece_id INTEGER NOT NULL REFERENCES piece (id),
            seq INTEGER NOT NULL,
            kind TEXT NOT NULL,
            at_ms INTEGER NOT NULL,
            data TEXT NOT NULL,
            PRIMARY KEY (piece_id, seq)
        ) WITHOUT ROWID
        """,
    ),
    (  # sums, so that a byte that has flipped on the disk is noticed
        "ALTER TABLE event ADD COLUMN sum INTEGER NOT NULL DEFAULT 0",
        f"UPDATE event SET sum = checksum({', '.join(_EVENT_FIELDS)})",  # noqa: S608 - our own names
        "ALTER TABLE piece ADD COLUMN events INTEGER NOT NULL DEFAULT 0",
        "UPDATE piece SET events = (SELECT count(*) FROM event WHERE piece_id = piece.id)",
        "ALTER TABLE piece ADD COLUMN sum INTEGER NOT NULL DEFAULT 0",
        f"UPDATE piece SET sum = checksum({', '.join(_FORMER_FIELDS)})",  # noqa: S608 - our own names
    ),
    (  # counts in few bytes, rows keyed by one number that fill their pages, and how a piece stood
        """
        CREATE TABLE entry (
            id INTEGER PRIMARY KEY,
            data BLOB CONSTRAINT "an entry is not as it was written" CHECK (data IS NOT NULL)
        )
        """,
        f"""
        INSERT INTO entry SELECT piece_id << 32 | seq, moved_over({", ".join(_EVENT_FIELDS)}, sum)
        FROM event ORDER BY piece_id, seq
        """,  # noqa: S608 - our own names
        "DROP TABLE event",
        "ALTER TABLE entry RENAME TO event",
        """
        CREATE TABLE folded (
            piece_id INTEGER PRIMARY KEY REFERENCES piece (id),
            fold INTEGER NOT NULL,
            seq INTEGER NOT NULL,
            data BLOB NOT NULL
        )
        """,
    ),
    (  # rows that any tool shows as what they are; ids by which a database and a piece are known
        "ALTER TABLE event RENAME TO packed",
        """
        CREATE TABLE event (
            piece INTEGER NOT NULL REFERENCES piece (id),
            seq INTEGER NOT NULL,
            kind TEXT NOT NULL,
            at TEXT NOT NULL,
            data TEXT NOT NULL,
            sum INTEGER NOT NULL,
            PRIMARY KEY (piece, seq)
        ) WITHOUT ROWID
        """,
        into_rows,
        "DROP TABLE packed",
        "DROP TABLE folded",
        """
        CREATE TABLE folded (
            piece INTEGER PRIMARY KEY REFERENCES piece (id),
            fold INTEGER NOT NULL,
            seq INTEGER NOT NULL,
            data TEXT NOT NULL,
            sum INTEGER NOT NULL
        )
        """,
        "ALTER TABLE piece ADD COLUMN uid TEXT NOT NULL DEFAULT ''",
        _name_pieces,
        "CREATE UNIQUE INDEX piece_uid ON piece (uid)",
        "CREATE TABLE identity (id TEXT NOT NULL, writes INTEGER NOT NULL)",
        "INSERT INTO identity VALUES (lower(hex(randomblob(16))), 0)",
    ),
    (  # what happens at the desk, beside the pieces
        """
        CREATE TABLE desk (
            book TEXT NOT NULL,
            seq INTEGER NOT NULL,
            kind TEXT NOT NULL,
            at TEXT NOT NULL,
            data TEXT NOT NULL,
            sum INTEGER NOT NULL,
            PRIMARY KEY (book, seq)
        ) WITHOUT ROWID
        """,
    ),
)
