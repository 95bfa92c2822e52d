"""The tables of the one database, and how an older one is brought up to date."""

from typing import Final
from zlib import crc32

APPLICATION_ID: Final = 0x636F6163  # "coac", so that other programs' databases are told apart

# What the sums of a row are made of, in this order; what belongs to the sum belongs to the layout.
_EVENT_FIELDS: Final = ("piece_id", "seq", "kind", "at_ms", "data")  # until layout 2
PIECE_FIELDS: Final = (
    "id", "name", "title", "source", "begun_ms", "touched_ms", "done", "total", "worked_ms",
    "events",
)  # fmt: skip

# One entry a version; what is kept by makers is never changed, only added to.
MIGRATIONS: Final[tuple[tuple[str, ...], ...]] = (
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
        f"UPDATE piece SET sum = checksum({', '.join(PIECE_FIELDS)})",  # noqa: S608 - our own names
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
)


def checksum(*values: object) -> int:
    """Return the CRC-32 of values in their order; the database knows it by the same name."""
    return crc32("\x1f".join(map(str, values)).encode("utf-8", "surrogatepass"))
