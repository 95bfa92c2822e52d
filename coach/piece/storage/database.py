"""The SQLite database of all pieces: transactions, timeouts and errors."""

import sqlite3
import threading
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Final, Self

from coach.piece.piece_errors import Busy, PieceError
from coach.piece.storage import sqlite_errors
from coach.piece.storage.guarded_file import GuardedFile
from coach.piece.storage.identity import file_mark, write_mark
from coach.piece.storage.opening import check_pages, file_size
from coach.piece.storage.sqlite_errors import disk_full_error, pragma, transaction
from coach.piece.storage.writer import Writer

BUSY_TIMEOUT_S: Final = 5.0
RETRY_TIMEOUT_S: Final = 0.2  # a hand is waiting on the next key


class Database(GuardedFile):
    """A database file of pieces. Use it in a `with`, or `close` it.

    Every method raises a `PieceError` and never an error of SQLite. Once the path leads to other
    files, nothing is written any more and every method raises NotOurs, until `reopen` finds the
    database again. Threads take turns at it, a whole transaction each.
    """

    def __init__(self, path: Path) -> None:
        """Open the database, created with its owner's rights alone if it was not there.

        Raises:
            CannotKeep: The file cannot be created, read or written.
            Damaged: It is no database, not one of pieces, or broken.
            NewerVersion: A newer coach wrote it.
            Busy: Another program held it too long.
        """
        self._usual_s = BUSY_TIMEOUT_S
        self.writer = Writer()
        # Re-entrant, because transactions nest.
        self._turn = threading.RLock()
        # Nothing is left behind where this call created the file and could not set it up.
        fresh = not path.exists()
        try:
            super().__init__(path, BUSY_TIMEOUT_S)
        except PieceError:
            if fresh and not file_size(path):
                with suppress(OSError):
                    path.unlink()
            raise

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def close(self) -> None:
        """Close the file after all pending writes; stored data stays stored."""
        self.writer.close()
        self._close_file()

    def reopen(self) -> None:
        """Reopen the file after a fault, as when a drive was pulled out and put back.

        Raises:
            NotOurs: It is not there, or another one is.
            PieceError: It cannot be read or written.
        """
        with self._alone():
            if not self._parted:
                # Only while the file is ours: closing another one's would spoil it.
                self.see_whose()  # closing writes the journal into the file
            self._see_alone()
            self._close_file()
            try:
                self._open(RETRY_TIMEOUT_S)
            except PieceError as error:
                self._parted = error
                raise
            self._parted = None

    def be_patient(self) -> None:
        """Use the usual timeout for other programs again; `reopen` sets a short one."""
        with self.plain_errors():
            self._wait_at_most(self._usual_s)

    def hurry(self) -> None:
        """Wait for other programs only briefly from here on, because keys wait for the screen."""
        self._wait(RETRY_TIMEOUT_S)

    @contextmanager
    def at_leisure(self) -> Iterator[None]:
        """Use the usual timeout inside this block."""
        usual_s = self._usual_s
        with suppress(PieceError):
            self._wait(BUSY_TIMEOUT_S)
        try:
            yield
        finally:
            with suppress(PieceError):
                self._wait(usual_s)

    def _wait(self, usual_s: float) -> None:
        self._usual_s = usual_s
        self.be_patient()

    @contextmanager
    def atomic(self) -> Iterator[None]:
        """Commit all that is written in this block, or nothing; the first error is raised.

        A nested block belongs to the outer one.

        Raises:
            NotOurs: The path leads to another database now, or to an older copy of this one.
        """
        with self._alone():
            if self._inside():
                yield
                return
            self.see_whose()
            if self._reads_only:
                raise disk_full_error(self.path)
            with self.plain_errors(), transaction(self._db, "IMMEDIATE"):
                # First in the transaction, so that two copies of the database can never write under
                # one number.
                known = self._take_turn()
                yield
            self._known = known
            self._written = write_mark(self.path)  # the journal may be written into the file now

    @contextmanager
    def one_view(self) -> Iterator[None]:
        """Read from one snapshot of the database in this block; `atomic` does already."""
        with self._alone():
            if self._inside():
                yield
                return
            with self.plain_errors(), transaction(self._db, "DEFERRED"):
                yield

    @contextmanager
    def plain_errors(self) -> Iterator[None]:
        """Turn SQLite's errors into our own in this block."""
        with self._alone(), sqlite_errors.plain_errors(self.path):
            try:
                yield
            except sqlite3.ProgrammingError as error:  # it is closed
                if self._parted:
                    raise self._parted from error
                raise

    @contextmanager
    def _alone(self) -> Iterator[None]:
        """Keep other threads out of this block. Raises Busy if one of them takes too long."""
        if not self._turn.acquire(timeout=BUSY_TIMEOUT_S):
            raise Busy(f"Something else is written to {self.path}. Try again in a moment.")
        try:
            yield
        finally:
            self._turn.release()

    def _inside(self) -> bool:
        with self.plain_errors():
            return self._db.in_transaction

    def stamp(self) -> tuple[object, ...]:
        """Return a value that changes once anybody has written, or replaced the file.

        It is far cheaper than reading.
        """
        with self.plain_errors():
            # `data_version` tells of other connections only, `total_changes` of this one only.
            seen = pragma(self._db, "data_version"), self._db.total_changes
            return *seen, file_mark(self.path), *self._beside(), write_mark(self.path)

    def see_whose(self) -> None:
        """Check that the path still leads to the files that were opened.

        If not, the database is closed, and what its journal held is written into its own file: a
        journal left beside another file would be taken for that one's.

        Raises:
            NotOurs: It leads to other files, or to none.
        """
        with self._alone():
            self._see_whose()

    def settle(self) -> None:
        """Write the journal into the file, so that a copy of the file alone is complete.

        It does not wait for another coach that reads or writes just now. Raises NotOurs.
        """
        with self._alone():
            self.see_whose()
            with self.plain_errors():
                self._roll_in()
            self._written = write_mark(self.path)

    def check_pages(self) -> None:
        """Check the pages of the file. Raises Damaged where SQLite finds it broken."""
        with self.plain_errors():
            check_pages(self._db, self.path)
