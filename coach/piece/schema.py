"""The tables of the one database, and how an older one is brought up to date."""

from typing import Final

APPLICATION_ID: Final = 0x636F6163  # "coac", so that other programs' databases are told apart

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
)
