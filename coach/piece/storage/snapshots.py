"""Snapshots of the whole database, the last five of them, made by SQLite's own backup."""

import sqlite3
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path
from typing import Final

from coach.piece.storage.folders import ensure_folder, ensure_private_file

MOST_KEPT: Final = 5
_STAMP: Final = "%Y-%m-%d-%H%M%S"
_PATTERN: Final = "coach-*.db"


def folder_of(database: Path) -> Path:
    """Return the folder with the snapshots of a database."""
    return database.parent / "snapshots"


def snapshots(database: Path) -> list[Path]:
    """Return the snapshots of a database, the latest first."""
    try:
        return sorted(folder_of(database).glob(_PATTERN), reverse=True)
    except OSError:
        return []


def file_name_time(now_ms: int) -> str:
    """Return a moment in UTC for a file name; later ones sort later."""
    return f"{datetime.fromtimestamp(now_ms / 1000, UTC):{_STAMP}}"


def taken_ms(snapshot: Path) -> int:
    """Return when a snapshot was taken, in UTC epoch milliseconds, as its file name says.

    Raises:
        ValueError: The name is no snapshot's.
    """
    taken = datetime.strptime(snapshot.stem.removeprefix("coach-"), _STAMP).replace(tzinfo=UTC)
    return round(taken.timestamp() * 1000)


def take_snapshot(source: sqlite3.Connection, database: Path, now_ms: int) -> Path:
    """Copy a database into a dated file, written beside and renamed, and keep only the last five.

    Args:
        source: The open database.
        database: Its path.
        now_ms: The moment, in UTC epoch milliseconds.

    Returns:
        The path of the snapshot.

    Raises:
        sqlite3.Error: It cannot be read or written.
        OSError: The file cannot be renamed.
        CannotKeep: The folder cannot be created.
    """
    final = ensure_folder(folder_of(database)) / f"coach-{file_name_time(now_ms)}.db"
    beside = ensure_private_file(final.with_suffix(".part"))
    try:
        with closing(sqlite3.connect(beside, isolation_level=None)) as copy:
            source.backup(copy)
            # The mode is copied along: in WAL mode a copy of the file alone may not be complete.
            copy.execute("PRAGMA journal_mode = DELETE")
        beside.replace(final)
    finally:
        beside.unlink(missing_ok=True)
    for old in snapshots(database)[MOST_KEPT:]:
        old.unlink(missing_ok=True)
    return final
