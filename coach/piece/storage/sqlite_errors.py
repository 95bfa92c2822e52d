"""SQLite's errors in a maker's words, and transactions."""

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Any, Final, Literal

from coach.piece.piece_errors import Busy, CannotKeep, Damaged, PieceError

BUSY: Final = frozenset({sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED})
_DAMAGE: Final = frozenset(
    {
        sqlite3.SQLITE_CORRUPT,
        sqlite3.SQLITE_NOTADB,
        sqlite3.SQLITE_ERROR,  # our own statements are sound, so a table must be missing
        sqlite3.SQLITE_CONSTRAINT,
    }
)


@contextmanager
def plain_errors(path: Path) -> Iterator[None]:
    """Turn SQLite's errors about the database at `path` into our own in this block."""
    try:
        yield
    except sqlite3.Error as error:
        raise _plain(error, path) from error
    except UnicodeDecodeError as error:  # of SQLite's own message, with a name out of the file
        raise damaged_error(path, "names in it are not text") from error


@contextmanager
def transaction(db: sqlite3.Connection, kind: Literal["DEFERRED", "IMMEDIATE"]) -> Iterator[None]:
    """Commit all that is written in this block, or nothing; the first error is raised."""
    db.execute(f"BEGIN {kind}")
    try:
        yield
        db.execute("COMMIT")
    except BaseException:
        with suppress(sqlite3.Error):
            db.execute("ROLLBACK")
        raise


def pragma(db: sqlite3.Connection, name: str) -> Any:
    """Return the value of one of SQLite's settings."""
    return db.execute(f"PRAGMA {name}").fetchone()[0]


def code_of(error: sqlite3.Error) -> int:
    """Return the primary code of an error; one that Python raises itself counts as a disk error."""
    return getattr(error, "sqlite_errorcode", sqlite3.SQLITE_IOERR) & 0xFF


def damaged_error(path: Path, why: str) -> Damaged:
    """Return the error for a database that cannot be read."""
    return Damaged(
        f"The pieces in {path} cannot be read: {why}. Nothing was changed. `coach mend` "
        "says what can be recovered, and keeps the damaged file."
    )


def disk_full_error(path: Path) -> CannotKeep:
    """Return the error for a full disk."""
    return CannotKeep(f"The disk is full: nothing can be kept in {path}. Make room.")


def _plain(error: sqlite3.Error, path: Path) -> PieceError:
    code = code_of(error)
    if code in BUSY:
        return Busy(f"Another program holds {path}. Close it, or try again in a moment.")
    if code in _DAMAGE:
        return damaged_error(path, str(error))
    if code == sqlite3.SQLITE_FULL:
        return disk_full_error(path)
    return CannotKeep(
        f"Nothing can be kept in {path}: {error}. Check that there is room on the disk "
        "and that the file and its folder are writable for you."
    )
