"""The one SQLite file of all pieces: what is written is on the disk, and in our own file."""

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
from coach.piece.storage.sqlite_errors import full, pragma, transaction
from coach.piece.storage.writer import Writer

BUSY_TIMEOUT_S: Final = 5.0
RETRY_TIMEOUT_S: Final = 0.2  # a hand is waiting on the next key


class Database(GuardedFile):
    """A database file of pieces. Use it in a `with`, or `close` it.

    Every method raises a `PieceError` and never an error of SQLite. Once the path has come to
    lead to other files, nothing is written any more and every method raises NotOurs, until
    `reopen` finds the database again.

    Threads take turns at it, a whole transaction each.
    """

    def __init__(self, path: Path) -> None:
        """Open the database, made closed to others if it was not there.

        Raises:
            CannotKeep: The file cannot be made, read or written.
            Damaged: It is no database, not one of pieces, or broken.
            NewerVersion: A newer coach wrote it.
            Busy: Another program held it too long.
        """
        self._usual_s = BUSY_TIMEOUT_S
        self.writer = Writer()
        self._turn = threading.RLock()
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
        """Close the file once all is written that was asked for; what was kept stays kept."""
        self.writer.close()
        self._close_file()

    def reopen(self) -> None:
        """Open the file anew after a fault, as when a drive was pulled out and put back.

        Raises:
            NotOurs: It is not there, or another one is.
            PieceError: It cannot be read or written.
        """
        with self._alone():
            if not self._parted:
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
        """Wait again for other programs as long as usual; `reopen` waits only for a moment."""
        with self.plain_errors():
            self._wait_at_most(self._usual_s)

    def hurry(self) -> None:
        """Wait for other programs only for a moment from here on: a hand waits for the screen."""
        self._wait(RETRY_TIMEOUT_S)

    @contextmanager
    def at_leisure(self) -> Iterator[None]:
        """Wait inside as long as if no hand waited."""
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
        """Keep all that is written inside, or nothing of it; the first error is the one raised.

        Inside another one it belongs to that one.

        Raises:
            NotOurs: The path leads to another database now, or to an older copy of this one.
        """
        with self._alone():
            if self._inside():
                yield
                return
            self.see_whose()
            if self._reads_only:
                raise full(self.path)
            with self.plain_errors(), transaction(self._db, "IMMEDIATE"):
                known = self._take_turn()
                yield
            self._known = known
            self._written = write_mark(self.path)  # the journal may be written into the file now

    @contextmanager
    def one_view(self) -> Iterator[None]:
        """Let all that is read inside belong to one moment; inside `atomic` it does already."""
        with self._alone():
            if self._inside():
                yield
                return
            with self.plain_errors(), transaction(self._db, "DEFERRED"):
                yield

    @contextmanager
    def plain_errors(self) -> Iterator[None]:
        """Turn SQLite's errors into our own."""
        with self._alone(), sqlite_errors.plain_errors(self.path):
            try:
                yield
            except sqlite3.ProgrammingError as error:  # it is closed
                if self._parted:
                    raise self._parted from error
                raise

    @contextmanager
    def _alone(self) -> Iterator[None]:
        """Keep other threads out. Raises Busy where one of them takes too long."""
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
        """Return what is another one once anybody has written, or has put another file there.

        It is far cheaper than reading.
        """
        with self.plain_errors():
            seen = pragma(self._db, "data_version"), self._db.total_changes
            return *seen, file_mark(self.path), *self._beside(), write_mark(self.path)

    def see_whose(self) -> None:
        """See that the path still leads to the files that were opened.

        Where it does not, the database is closed, and what its journal held lies in its own file:
        a journal that is left beside another one would be taken for that one's.

        Raises:
            NotOurs: It leads to other files, or to none.
        """
        with self._alone():
            self._see_whose()

    def settle(self) -> None:
        """Write the journal into the file, so that a copy of the file alone holds everything.

        Another coach that reads or writes just now is not waited for. Raises NotOurs.
        """
        with self._alone():
            self.see_whose()
            with self.plain_errors():
                self._roll_in()
            self._written = write_mark(self.path)

    def check_pages(self) -> None:
        """Look through the pages of the file. Raises Damaged where SQLite finds it broken."""
        with self.plain_errors():
            check_pages(self._db, self.path)
