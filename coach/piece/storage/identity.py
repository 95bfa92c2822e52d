"""Recognizing the database file, even while it is open.

A path may come to lead to other files under an open bench: another stick at the same mount point,
a backup that was restored, a sync tool. SQLite answers from its memory and goes on writing; so
before each write the files are looked at.
"""

import sqlite3
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path
from typing import Final, TypeAlias

from coach.piece.piece_errors import NotOurs
from coach.piece.storage.sqlite_errors import code_of


@dataclass(frozen=True, slots=True)
class Identity:
    """A database's random id, and how often it was written to; a copy has the same id."""

    id: str
    writes: int

    def goes_back_behind(self, known: "Identity") -> bool:
        """Return whether this is a database other than the known one, or older."""
        return self.id != known.id or self.writes < known.writes


FileMark: TypeAlias = tuple[int, int] | None
"""Device and number of a file, None where there is none."""

WriteMark: TypeAlias = tuple[int, int, int] | None
"""Size of a file and its two times in ns, None where there is none."""

NOBODY: Final = Identity("", 0)
"""What a file says of itself that is no database of pieces of this layout."""

_SAYS_NOTHING: Final = (sqlite3.SQLITE_NOTADB, sqlite3.SQLITE_ERROR)


def identity_in(db: sqlite3.Connection) -> Identity:
    """Return the identity of an open database. Raises sqlite3.Error."""
    row = db.execute("SELECT id, writes FROM identity").fetchone()
    known = row and isinstance(row[0], str) and isinstance(row[1], int)
    return Identity(*row) if known else NOBODY


def identity_of_file(path: Path) -> Identity | None:
    """Return the identity in a file, without the journal beside it.

    Returns:
        None where it cannot be told now, as while another coach writes into the file.
    """
    place = f"{path.absolute().as_uri()}?immutable=1&mode=ro"
    try:
        with closing(sqlite3.connect(place, uri=True)) as alone:
            return identity_in(alone)
    except sqlite3.Error as error:
        return NOBODY if code_of(error) in _SAYS_NOTHING else None


def file_mark(path: Path) -> FileMark:
    """Return what identifies a file on this system, or None where there is none."""
    try:
        found = path.stat()
    except (OSError, ValueError):
        return None
    return found.st_dev, found.st_ino


def write_mark(path: Path) -> WriteMark:
    """Return a value that changes when a file is written, or None where there is none."""
    try:
        found = path.stat()
    except (OSError, ValueError):
        return None
    return found.st_size, found.st_mtime_ns, found.st_ctime_ns


def missing_file_error(path: Path) -> NotOurs:
    """Return the error for a file that is not where it was."""
    return NotOurs(
        f"The file {path} is not there any more, or another one is. Put the drive or folder back."
    )


def missing_journal_error(journal: Path) -> NotOurs:
    """Return the error for a journal that is not there, or another one."""
    return NotOurs(
        f"The journal {journal} was taken away while the pieces were open. Leave what lies beside "
        "your pieces where it is."
    )


def overwritten_error(path: Path) -> NotOurs:
    """Return the error for a file that does not go with its journal any more."""
    return NotOurs(
        f"Something else was written over {path} while the pieces were open. Put your file back."
    )


def foreign_database_error(path: Path, found: Identity, known: Identity) -> NotOurs:
    """Return the error for a file that is another database, or an older copy.

    Args:
        path: The file.
        found: The identity of the database that it is now.
        known: The identity of the one that was opened.
    """
    if found.id == known.id:
        return NotOurs(
            f"{path} is an older copy of your pieces now: what was counted last is not in it. Put "
            "the newer file back."
        )
    return NotOurs(f"Other pieces are in {path} now, not yours. Put your file back.")
