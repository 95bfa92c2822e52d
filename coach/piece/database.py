"""The one SQLite file: opened with care, brought up to date, its errors put into words."""

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Any, Final, Self

from coach import __version__
from coach.piece.folders import own_file
from coach.piece.problems import Busy, CannotKeep, Damaged, NewerVersion, PieceError
from coach.piece.schema import APPLICATION_ID, MIGRATIONS

BUSY_TIMEOUT_S: Final = 5.0
_BUSY: Final = {sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED}
_DAMAGE: Final = {
    sqlite3.SQLITE_CORRUPT,
    sqlite3.SQLITE_NOTADB,
    sqlite3.SQLITE_ERROR,  # our own statements are sound, so a table must be missing
    sqlite3.SQLITE_CONSTRAINT,
}


class Database:
    """A database file of pieces. Use it in a `with`, or `close` it.

    Every method raises a `PieceError` and never an error of SQLite.
    """

    def __init__(self, path: Path) -> None:
        """Open the database, made closed to others if it was not there.

        Raises:
            CannotKeep: The file cannot be made, read or written.
            Damaged: It is no database, not one of pieces, or broken.
            NewerVersion: A newer coach wrote it.
            Busy: Another program held it too long.
        """
        self.path = own_file(path)
        with self.plain_errors():
            self._db = sqlite3.connect(path, timeout=BUSY_TIMEOUT_S, isolation_level=None)
        try:
            self._prepare()
        except BaseException:
            self.close()
            raise

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def close(self) -> None:
        """Close the file; all that was kept stays kept."""
        with suppress(sqlite3.Error):
            self._db.close()

    @contextmanager
    def atomic(self) -> Iterator[None]:
        """Keep all that is written inside, or nothing of it; the first error is the one raised."""
        with self._transaction("IMMEDIATE"):
            yield

    def _prepare(self) -> None:
        """See that the file is ours before anything in it is changed, then bring it up to date."""
        with self.plain_errors():
            self._db.execute("PRAGMA foreign_keys = ON")
        with self._transaction("DEFERRED"):  # one view, should another coach be migrating
            version = self._version()
        with self.plain_errors():
            self._db.execute("PRAGMA journal_mode = WAL")
            self._db.execute("PRAGMA synchronous = FULL")
        if version < len(MIGRATIONS):
            self._migrate()

    def _version(self) -> int:
        """Give how many migrations the file has had; refuse one that is not ours."""
        version = int(self._pragma("user_version"))
        mark = self._pragma("application_id")
        (tables,) = self._db.execute("SELECT count(*) FROM sqlite_master").fetchone()
        if mark != APPLICATION_ID and (mark or version or tables):
            raise self._damaged("it belongs to another program")
        if version > len(MIGRATIONS):
            raise NewerVersion(
                f"The pieces in {self.path} were kept by a newer coach (their form is "
                f"{version}; coach {__version__} knows {len(MIGRATIONS)}). Use that one, or "
                "bring this one up to date. Nothing was changed."
            )
        return version

    def _migrate(self) -> None:
        """Bring the file up to date, each migration in one transaction with its record."""
        for number, statements in enumerate(MIGRATIONS, start=1):
            with self.atomic():
                if self._version() >= number:  # another coach was quicker
                    continue
                for statement in statements:
                    self._db.execute(statement)
                self._db.execute(f"PRAGMA application_id = {APPLICATION_ID}")
                self._db.execute(f"PRAGMA user_version = {number}")

    def _pragma(self, name: str) -> Any:
        return self._db.execute(f"PRAGMA {name}").fetchone()[0]

    @contextmanager
    def _transaction(self, kind: str) -> Iterator[None]:
        with self.plain_errors():
            self._db.execute(f"BEGIN {kind}")
            try:
                yield
                self._db.execute("COMMIT")
            except BaseException:
                with suppress(sqlite3.Error):
                    self._db.execute("ROLLBACK")
                raise

    @contextmanager
    def plain_errors(self) -> Iterator[None]:
        """Turn SQLite's errors into our own."""
        try:
            yield
        except sqlite3.Error as error:
            raise self._plain(error) from error

    def _plain(self, error: sqlite3.Error) -> PieceError:
        """Say in a maker's words what SQLite's error means."""
        code = getattr(error, "sqlite_errorcode", sqlite3.SQLITE_IOERR) & 0xFF
        if code in _BUSY:
            return Busy(f"Another program holds {self.path}. Close it, or try again in a moment.")
        if code in _DAMAGE:
            return self._damaged(str(error))
        return CannotKeep(
            f"Nothing can be kept in {self.path}: {error}. See that there is room on the disk "
            "and that the file and its folder are writable for you."
        )

    def _damaged(self, why: str) -> Damaged:
        return Damaged(
            f"The pieces in {self.path} cannot be read: {why}. Nothing was changed. Put back a "
            "copy if there is one, or move the file away to start afresh."
        )
