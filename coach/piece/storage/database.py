"""The one SQLite file: opened with care, brought up to date, its errors put into words."""

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Any, Final, Self

from coach import __version__
from coach.piece.piece_errors import Busy, CannotKeep, Damaged, NewerVersion, PieceError
from coach.piece.storage.event_codec import moved_over
from coach.piece.storage.folders import own_file
from coach.piece.storage.migrations import APPLICATION_ID, MIGRATIONS, checksum
from coach.piece.storage.network_drive import network_kind

BUSY_TIMEOUT_S: Final = 5.0
RETRY_TIMEOUT_S: Final = 0.2  # a hand is waiting on the next key
MOST_CHECKED_BYTES: Final = 2**24  # a quick check of so much takes under a twentieth of a second
_JOURNAL_TRIES: Final = 50  # each one waits for another coach to be done
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
        self._open(BUSY_TIMEOUT_S)

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def close(self) -> None:
        """Close the file; all that was kept stays kept."""
        with suppress(sqlite3.Error):
            self._db.close()

    def reopen(self) -> None:
        """Open the file anew after a fault, as when a drive was pulled out and put back.

        Raises:
            PieceError: It is not there, or cannot be read or written.
        """
        if self._mark() is None:
            raise self._gone()
        self.close()
        self._open(RETRY_TIMEOUT_S)

    def be_patient(self) -> None:
        """Wait again for other programs as long as usual; `reopen` waits only for a moment."""
        with self.plain_errors():
            self._db.execute(f"PRAGMA busy_timeout = {round(BUSY_TIMEOUT_S * 1000)}")

    @contextmanager
    def atomic(self) -> Iterator[None]:
        """Keep all that is written inside, or nothing of it; the first error is the one raised.

        Inside another one it belongs to that one.
        """
        if self._db.in_transaction:
            yield
            return
        if self._mark() != self._opened:
            raise self._gone()  # SQLite would go on writing into a file that nobody finds again
        with self._transaction("IMMEDIATE"):
            yield

    @contextmanager
    def one_view(self) -> Iterator[None]:
        """Let all that is read inside belong to one moment; inside `atomic` it does already."""
        if self._db.in_transaction:
            yield
            return
        with self._transaction("DEFERRED"):
            yield

    def stamp(self) -> tuple[int, int]:
        """Return what is another one once anybody has written; far cheaper than reading."""
        with self.plain_errors():
            return int(self._pragma("data_version")), self._db.total_changes

    def check_pages(self) -> None:
        """Look through the pages of the file. Raises Damaged where SQLite finds it broken."""
        with self.plain_errors():
            (found,) = self._db.execute("PRAGMA quick_check(1)").fetchone()
        if found != "ok":
            raise self._damaged(str(found).splitlines()[-1])

    def _open(self, timeout_s: float) -> None:
        if Path(f"{self.path}-wal").exists():
            self._look_first(timeout_s)
        self._connect(str(self.path), timeout_s)
        self._opened = self._mark()
        try:
            self._prepare()
        except BaseException:
            self.close()
            raise

    def _look_first(self, timeout_s: float) -> None:
        """See that file and journal go together before the journal is written into the file.

        Raises:
            Damaged: They do not; neither of them was changed.
        """
        self._connect(f"{self.path.absolute().as_uri()}?mode=ro", timeout_s)
        try:
            with self.one_view():
                self._version()
                self._check_if_small()
        except (CannotKeep, Busy):
            return  # what keeps a reader out says nothing of the file
        finally:
            self.close()

    def _connect(self, place: str, timeout_s: float) -> None:
        uri = place.startswith("file:")
        with self.plain_errors():
            self._db = sqlite3.connect(place, timeout=timeout_s, isolation_level=None, uri=uri)
        self._db.text_factory = _lenient
        for function in (checksum, moved_over):
            self._db.create_function(function.__name__, -1, function, deterministic=True)

    def _check_if_small(self) -> None:
        if self._pragma("page_count") * self._pragma("page_size") <= MOST_CHECKED_BYTES:
            self.check_pages()

    def _mark(self) -> tuple[int, int] | None:
        """Return what the file at the path is known by, or None where there is none."""
        try:
            found = self.path.stat()
        except (OSError, ValueError):
            return None
        return found.st_dev, found.st_ino

    def _gone(self) -> CannotKeep:
        return CannotKeep(
            f"The file {self.path} is not there any more, or another one is. Put the drive or "
            "folder back."
        )

    def _prepare(self) -> None:
        """See that the file is ours before anything in it is changed, then bring it up to date."""
        with self.plain_errors():
            self._db.execute("PRAGMA foreign_keys = ON")
        with self.one_view():  # should another coach be migrating
            version = self._version()
            self._check_if_small()
        # the journal beside the file needs memory that machines share, which a network has not
        journal = "DELETE" if network_kind(self.path) else "WAL"
        with self.plain_errors():
            self._set_journal(journal)
            self._db.execute("PRAGMA synchronous = FULL")
        if version < len(MIGRATIONS):
            self._migrate()
            if version:  # give back the room that the layout before took, if there is any to do it
                with suppress(sqlite3.Error):
                    self._db.execute("VACUUM")

    def _set_journal(self, journal: str) -> None:
        """Set the journal; SQLite does not wait for its turn in this, so a transaction does."""
        for _ in range(_JOURNAL_TRIES):
            try:
                self._db.execute(f"PRAGMA journal_mode = {journal}")
            except sqlite3.OperationalError as error:
                if error.sqlite_errorcode not in _BUSY:
                    raise
                self._db.execute("BEGIN IMMEDIATE")
                self._db.execute("COMMIT")
            else:
                return
        self._db.execute(f"PRAGMA journal_mode = {journal}")

    def _version(self) -> int:
        """Return how many migrations the file has had; refuse one that is not ours."""
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
        except UnicodeDecodeError as error:  # of SQLite's own message, with a name out of the file
            raise self._damaged("names in it are no text") from error

    def _plain(self, error: sqlite3.Error) -> PieceError:
        """Say in a maker's words what SQLite's error means."""
        code = getattr(error, "sqlite_errorcode", sqlite3.SQLITE_IOERR) & 0xFF
        if code in _BUSY:
            return Busy(f"Another program holds {self.path}. Close it, or try again in a moment.")
        if code in _DAMAGE:
            return self._damaged(str(error))
        if code == sqlite3.SQLITE_FULL:
            return CannotKeep(f"The disk is full: nothing can be kept in {self.path}. Make room.")
        return CannotKeep(
            f"Nothing can be kept in {self.path}: {error}. See that there is room on the disk "
            "and that the file and its folder are writable for you."
        )

    def _damaged(self, why: str) -> Damaged:
        return Damaged(
            f"The pieces in {self.path} cannot be read: {why}. Nothing was changed. `coach mend` "
            "says what can be had back, puts the file aside and keeps it."
        )


def _lenient(data: bytes) -> str:
    """Read text that may be damaged; the sums tell whether it is."""
    return data.decode("utf-8", "replace")
