"""The database file with a guard against writing once its path leads elsewhere."""

import os
import sqlite3
from contextlib import suppress
from pathlib import Path

from coach.piece.piece_errors import CannotKeep, Damaged, NotOurs, PieceError
from coach.piece.storage.folders import ensure_private_file
from coach.piece.storage.identity import (
    NOBODY,
    FileMark,
    Identity,
    WriteMark,
    file_mark,
    foreign_database_error,
    identity_in,
    identity_of_file,
    missing_file_error,
    missing_journal_error,
    overwritten_error,
    write_mark,
)
from coach.piece.storage.opening import (
    check_if_small,
    is_full,
    journal_of,
    only_read,
    open_connection,
)
from coach.piece.storage.sqlite_errors import damaged_error, plain_errors


class GuardedFile:
    """One database file, recognized before each write by file mark, id and write count.

    A journal left beside another file would be taken for that one's, so when the path leads
    elsewhere the database is closed, and what its journal held is written into its own file.
    """

    def __init__(self, path: Path, timeout_s: float) -> None:
        """Open the file, created for its owner alone if it was not there.

        Args:
            path: Where it is.
            timeout_s: How long to wait for other programs, in seconds.

        Raises:
            PieceError: It cannot be opened.
        """
        self.path = ensure_private_file(path)
        self._journal_path = journal_of(path)
        self._known = NOBODY  # what the database said of itself last
        self._settled = NOBODY  # what the file by itself said last, without its journal
        self._parted: PieceError | None = None  # why it is closed for now
        self._written: WriteMark = None  # as it was when it was looked at last
        self._reads_only = False  # as it lies on a disk that is full
        self._open(timeout_s)

    def _see_whose(self) -> None:
        """Check that the path still leads to the files that were opened. Raises NotOurs."""
        if self._parted:
            raise self._parted
        if file_mark(self.path) != self._file:
            with suppress(sqlite3.Error):
                self._roll_in()  # into the file that was opened, wherever it is now
            self._part(missing_file_error(self.path))
        if self._beside() != self._journal and not self._reads_only:
            if self._beside()[1] == self._journal[1]:  # what all windows lock is still there
                with suppress(sqlite3.Error):
                    self._roll_in()
            # if nobody else has it open, closing writes the journal into the file too
            self._part(missing_journal_error(self._journal_path))
        written = write_mark(self.path)
        # Somebody wrote: usually another coach. Only then is the file itself read, for that takes
        # time.
        if written != self._written:
            self._look_again()
            self._written = written

    def _close_file(self) -> None:
        with suppress(sqlite3.Error):
            self._db.close()

    def _open(self, timeout_s: float) -> None:
        self._timeout_s = timeout_s
        try:
            self._db, self._reads_only = open_connection(self.path, timeout_s), False
        except CannotKeep as error:
            # On a full disk the pieces can at least be shown and exported.
            found = only_read(self.path) if is_full(error) else None
            if found is None:
                raise
            self._db, self._reads_only = found, True
        try:
            with plain_errors(self.path):
                self._know()
        except BaseException:
            self._close_file()
            raise

    def _know(self) -> None:
        """Remember what identifies the database and its files. Raises NotOurs, Damaged."""
        found = identity_in(self._db)
        if not found.id:
            raise damaged_error(self.path, "it does not say which database it is")
        # Reopened after a fault: an older copy would lose counts that were shown as stored.
        if self._known.id and found.goes_back_behind(self._known):
            raise foreign_database_error(self.path, found, self._known)
        self._known = found
        self._file, self._journal = file_mark(self.path), self._beside()
        alone = identity_of_file(self.path) or NOBODY
        self._settled = alone if alone.id == found.id else NOBODY
        if alone.id != found.id:
            self._roll_in()
        self._written = write_mark(self.path)

    def _take_turn(self) -> Identity:
        """Count one more write and return the database's identity then."""
        # The condition makes it fail on a copy that has gone back behind what this process knows.
        turned = self._db.execute(
            "UPDATE identity SET writes = writes + 1 WHERE id = ? AND writes >= ?",
            (self._known.id, self._known.writes),
        )
        if turned.rowcount != 1:
            raise foreign_database_error(self.path, identity_in(self._db), self._known)
        return identity_in(self._db)

    def _look_again(self) -> None:
        """Look at a file that somebody else wrote: a coach, or a copy over it."""
        found = identity_of_file(self.path)
        if found is None:
            raise CannotKeep(f"Another program is writing to {self.path}. Try again in a moment.")
        if self._is_another(found):
            self._drop_journal()
            self._part(foreign_database_error(self.path, found, self._known))
        self._settled = found
        try:
            with plain_errors(self.path):
                self._db.execute("PRAGMA shrink_memory")  # what SQLite remembers may be untrue
                check_if_small(self._db, self.path)
        except Damaged:  # not for SQLite's own fault: file and journal do not go together
            self._drop_journal()
            self._part(overwritten_error(self.path))

    def _beside(self) -> tuple[FileMark, FileMark]:
        """Return the marks of the journal and of its shared index."""
        return file_mark(self._journal_path), file_mark(Path(f"{self.path}-shm"))

    def _see_alone(self) -> None:
        """Check that the file at the path is the database that was opened. Raises NotOurs."""
        if file_mark(self.path) is None:
            raise missing_file_error(self.path)
        found = identity_of_file(self.path)
        if found is None:
            raise CannotKeep(f"{self.path} cannot be read. Check the drive.")
        if self._is_another(found):
            raise foreign_database_error(self.path, found, self._known)

    def _is_another(self, found: Identity) -> bool:
        """Return whether the file alone is another one, by what it said before.

        It says nothing while everything ever written is in the journal, which another coach may be
        reading: then only a foreign identity makes it another one.
        """
        if self._settled.id:
            return found.goes_back_behind(self._settled)
        return bool(found.id) and found.id != self._known.id

    def _roll_in(self) -> None:
        """Write the journal into the file and empty it, unless another coach prevents it."""
        usual_s = self._timeout_s
        # A checkpoint is only tidying: never wait for another coach because of it.
        self._wait_at_most(0)
        try:
            (busy, *_) = self._db.execute("PRAGMA wal_checkpoint(TRUNCATE)").fetchone()
        finally:
            self._wait_at_most(usual_s)
        if not busy:
            self._settled = self._known

    def _drop_journal(self) -> None:
        """Empty a journal whose file was overwritten, so that it is not applied there."""
        # Only the journal that this process wrote; another one belongs to the new file.
        if file_mark(self._journal_path) == self._journal[0]:
            with suppress(OSError):
                os.truncate(self._journal_path, 0)

    def _wait_at_most(self, timeout_s: float) -> None:
        self._db.execute(f"PRAGMA busy_timeout = {round(timeout_s * 1000)}")
        self._timeout_s = timeout_s

    def _part(self, why: NotOurs) -> None:
        """Close files that are not ours any more. Raises the reason, now and from here on."""
        self._close_file()
        self._parted = why
        raise why
