"""The one SQLite file of all pieces: what is written is on the disk, and in our own file."""

import os
import sqlite3
import threading
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Final, Self

from coach.piece.piece_errors import Busy, CannotKeep, Damaged, NotOurs, PieceError
from coach.piece.storage import sqlite_errors
from coach.piece.storage.folders import own_file
from coach.piece.storage.identity import (
    NOBODY,
    FileMark,
    Identity,
    file_mark,
    gone,
    identity_in,
    identity_of_file,
    journal_gone,
    other_pieces,
    write_mark,
    written_over,
)
from coach.piece.storage.opening import (
    check_if_small,
    check_pages,
    connected,
    file_size,
    is_full,
    journal_of,
    only_read,
)
from coach.piece.storage.sqlite_errors import damaged, full, pragma, transaction
from coach.piece.storage.writer import Writer

BUSY_TIMEOUT_S: Final = 5.0
RETRY_TIMEOUT_S: Final = 0.2  # a hand is waiting on the next key


class Database:
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
        fresh = not path.exists()
        self.path = own_file(path)
        self._journal_path = journal_of(path)
        self._known = NOBODY  # what the database said of itself last
        self._parted: PieceError | None = None  # why it is closed for now
        self._usual_s = BUSY_TIMEOUT_S
        self.writer = Writer()
        self._turn = threading.RLock()
        self._reads_only = False  # as it lies on a disk that is full
        try:
            self._open(BUSY_TIMEOUT_S)
        except PieceError:
            if fresh and not file_size(self.path):
                with suppress(OSError):
                    self.path.unlink()
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

    def _see_whose(self) -> None:
        if self._parted:
            raise self._parted
        if file_mark(self.path) != self._file:
            with suppress(sqlite3.Error):
                self._roll_in()  # into the file that was opened, wherever it is now
            self._part(gone(self.path))
        if self._beside() != self._journal and not self._reads_only:
            if self._beside()[1] == self._journal[1]:  # what all windows lock is still there
                with suppress(sqlite3.Error):
                    self._roll_in()
            # if nobody else has it open, closing writes the journal into the file too
            self._part(journal_gone(self._journal_path))
        written = write_mark(self.path)
        if written != self._written:
            self._look_again()
            self._written = written

    def _close_file(self) -> None:
        with suppress(sqlite3.Error):
            self._db.close()

    def _open(self, timeout_s: float) -> None:
        self._timeout_s = timeout_s
        try:
            self._db, self._reads_only = connected(self.path, timeout_s), False
        except CannotKeep as error:
            found = only_read(self.path) if is_full(error) else None
            if found is None:
                raise
            self._db, self._reads_only = found, True
        try:
            with self.plain_errors():
                self._know()
        except BaseException:
            self._close_file()
            raise

    def _know(self) -> None:
        """Take up by what the database and its files are known. Raises NotOurs, Damaged."""
        found = identity_in(self._db)
        if not found.id:
            raise damaged(self.path, "it does not say which database it is")
        if self._known.id and found.goes_back_behind(self._known):
            raise other_pieces(self.path, found, self._known)
        self._known = found
        self._file, self._journal = file_mark(self.path), self._beside()
        alone = identity_of_file(self.path) or NOBODY
        self._settled_writes = alone.writes  # as the file by itself says, without its journal
        if alone.id != found.id:
            self._roll_in()
        self._written = write_mark(self.path)

    def _take_turn(self) -> Identity:
        """Count one more writing and return what the database says of itself then."""
        turned = self._db.execute(
            "UPDATE identity SET writes = writes + 1 WHERE id = ? AND writes >= ?",
            (self._known.id, self._known.writes),
        )
        if turned.rowcount != 1:
            raise other_pieces(self.path, identity_in(self._db), self._known)
        return identity_in(self._db)

    def _look_again(self) -> None:
        """Look at a file that somebody else has written: a coach, or who copied another over it."""
        found = identity_of_file(self.path)
        if found is None:
            raise CannotKeep(f"Another program is writing to {self.path}. Try again in a moment.")
        if found.goes_back_behind(self._in_file()):
            self._drop_journal()
            self._part(other_pieces(self.path, found, self._known))
        self._settled_writes = found.writes
        try:
            with self.plain_errors():
                self._db.execute("PRAGMA shrink_memory")  # what SQLite remembers may be untrue
                check_if_small(self._db, self.path)
        except Damaged:  # not for SQLite's own fault: file and journal do not go together
            self._drop_journal()
            self._part(written_over(self.path))

    def _beside(self) -> tuple[FileMark, FileMark]:
        """Return by what the journal and the index of it that all windows share are known."""
        return file_mark(self._journal_path), file_mark(Path(f"{self.path}-shm"))

    def _see_alone(self) -> None:
        """See that the file at the path is the database that was opened. Raises NotOurs."""
        if file_mark(self.path) is None:
            raise gone(self.path)
        found = identity_of_file(self.path)
        if found is None:
            raise CannotKeep(f"{self.path} cannot be read. Check the drive.")
        if found.goes_back_behind(self._in_file()):
            raise other_pieces(self.path, found, self._known)

    def _in_file(self) -> Identity:
        """Return what the file by itself must say at the least, without its journal."""
        return Identity(self._known.id, self._settled_writes)

    def _roll_in(self) -> None:
        """Write the journal into the file and empty it, unless another coach is in the way."""
        usual_s = self._timeout_s
        self._wait_at_most(0)
        try:
            (busy, *_) = self._db.execute("PRAGMA wal_checkpoint(TRUNCATE)").fetchone()
        finally:
            self._wait_at_most(usual_s)
        if not busy:
            self._settled_writes = self._known.writes

    def _drop_journal(self) -> None:
        """Empty a journal whose file was written over: it must not get into what is there now."""
        if file_mark(self._journal_path) == self._journal[0]:
            with suppress(OSError):
                os.truncate(self._journal_path, 0)

    def _wait_at_most(self, timeout_s: float) -> None:
        self._db.execute(f"PRAGMA busy_timeout = {round(timeout_s * 1000)}")
        self._timeout_s = timeout_s

    def _part(self, why: NotOurs) -> None:
        """Let go of files that are not ours any more. Raises the reason, now and from here on."""
        self._close_file()
        self._parted = why
        raise why
