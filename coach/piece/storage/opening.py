"""Opening a database file, checked to be ours before anything in it is changed."""

import sqlite3
from contextlib import suppress
from pathlib import Path
from typing import Final

from coach import __version__
from coach.piece.piece_errors import Busy, CannotKeep, Damaged, NewerVersion, PieceError
from coach.piece.storage.event_rows import checksum
from coach.piece.storage.folders import network_kind
from coach.piece.storage.migrations import APPLICATION_ID, MIGRATIONS, Step
from coach.piece.storage.packed_events import moved_over
from coach.piece.storage.sqlite_errors import (
    BUSY,
    code_of,
    damaged_error,
    plain_errors,
    pragma,
    transaction,
)

MOST_CHECKED_BYTES: Final = 2**24  # a quick check of so much takes under a twentieth of a second
_NO_ROOM: Final = (sqlite3.SQLITE_FULL, sqlite3.SQLITE_IOERR)
_JOURNAL_TRIES: Final = 50  # each one waits for another coach to be done


def open_connection(path: Path, timeout_s: float) -> sqlite3.Connection:
    """Open a database, which may be an empty file, and migrate it.

    Args:
        path: The file, which must be there.
        timeout_s: How long to wait for other programs.

    Raises:
        CannotKeep: It cannot be read or written.
        Damaged: It is no database, not one of pieces, or broken.
        NewerVersion: A newer coach wrote it.
        Busy: Another program held it too long.
    """
    with plain_errors(path):
        if journal_of(path).exists():
            # SQLite replays a journal on opening, even one that belongs to another file beside it.
            _look_first(path, timeout_s)
        db = _raw(str(path), timeout_s)
        try:
            _prepare(db, path)
        except BaseException:
            _close(db)
            raise
    return db


def only_read(path: Path) -> sqlite3.Connection | None:
    """Open a database read-only when its disk is full; None where that cannot be done.

    SQLite needs room beside the file even to read it. Without a journal the file is complete.
    """
    if file_size(path) == 0 or file_size(journal_of(path)) > 0:
        return None
    # `immutable` makes SQLite open the file without locks and shared memory, for which it needs
    # room.
    db = _raw(f"{path.absolute().as_uri()}?mode=ro&immutable=1", 0)
    try:
        if _version(db, path) == len(MIGRATIONS):
            return db
    except (sqlite3.Error, PieceError):
        pass
    _close(db)
    return None


def is_full(error: PieceError) -> bool:
    """Return whether a database could not be opened because its disk is full."""
    cause = error.__cause__
    return isinstance(cause, sqlite3.Error) and code_of(cause) in _NO_ROOM


def file_size(path: Path) -> int:
    """Return the size of a file, 0 where there is none."""
    try:
        return path.stat().st_size
    except OSError:
        return 0


def journal_of(path: Path) -> Path:
    """Return the path of a database's write-ahead journal."""
    return Path(f"{path}-wal")


def check_pages(db: sqlite3.Connection, path: Path) -> None:
    """Check the pages of a file. Raises Damaged where SQLite finds it broken."""
    (found,) = db.execute("PRAGMA quick_check(1)").fetchone()
    if found != "ok":
        raise damaged_error(path, str(found).splitlines()[-1])


def check_if_small(db: sqlite3.Connection, path: Path) -> None:
    """Check the pages of a file that is not large. Raises Damaged."""
    if pragma(db, "page_count") * pragma(db, "page_size") <= MOST_CHECKED_BYTES:
        check_pages(db, path)


def _raw(place: str, timeout_s: float) -> sqlite3.Connection:
    uri = place.startswith("file:")
    db = sqlite3.connect(  # `Database` sees that threads take turns
        place, timeout=timeout_s, isolation_level=None, uri=uri, check_same_thread=False
    )
    # By default one damaged letter raises before a checksum could say which row is wrong.
    db.text_factory = _lenient
    for function in (checksum, moved_over):
        db.create_function(function.__name__, -1, function, deterministic=True)
    return db


def _close(db: sqlite3.Connection) -> None:
    with suppress(sqlite3.Error):
        db.close()


def _look_first(path: Path, timeout_s: float) -> None:
    """Check that file and journal belong together before the journal is written into it.

    Raises:
        Damaged: They do not; neither of them was changed.
    """
    db = _raw(f"{path.absolute().as_uri()}?mode=ro", timeout_s)
    try:
        with plain_errors(path), transaction(db, "DEFERRED"):
            _version(db, path)
            # A check reads every page, which on a large file would delay each start.
            check_if_small(db, path)
    except (CannotKeep, Busy):
        return  # what keeps a reader out says nothing of the file
    finally:
        _close(db)


def _prepare(db: sqlite3.Connection, path: Path) -> None:
    db.execute("PRAGMA foreign_keys = ON")
    with transaction(db, "DEFERRED"):  # should another coach be migrating
        version = _version(db, path)
        check_if_small(db, path)
    # the journal beside the file needs memory that machines share, which a network has not
    _set_journal(db, "DELETE" if network_kind(path) else "WAL")
    # With less, SQLite may lose commits of the last seconds when the power fails.
    db.execute("PRAGMA synchronous = FULL")
    if version < len(MIGRATIONS):
        _migrate(db, path)
        if version:  # give back the room that the layout before took, if there is any to do it
            with suppress(sqlite3.Error):
                db.execute("VACUUM")


def _set_journal(db: sqlite3.Connection, journal: str) -> None:
    """Set the journal mode inside a transaction, since SQLite does not wait for its turn here."""
    for _ in range(_JOURNAL_TRIES):
        try:
            db.execute(f"PRAGMA journal_mode = {journal}")
        except sqlite3.OperationalError as error:
            if code_of(error) not in BUSY:
                raise
            # This waits for the busy timeout, which changing the journal mode does not.
            db.execute("BEGIN IMMEDIATE")
            db.execute("COMMIT")
        else:
            return
    db.execute(f"PRAGMA journal_mode = {journal}")


def _version(db: sqlite3.Connection, path: Path) -> int:
    """Return how many migrations the file has had; refuse a file that is not ours."""
    version = int(pragma(db, "user_version"))
    mark = pragma(db, "application_id")
    (tables,) = db.execute("SELECT count(*) FROM sqlite_master").fetchone()
    # An empty file has none of the three and may become ours.
    if mark != APPLICATION_ID and (mark or version or tables):
        raise damaged_error(path, "it belongs to another program")
    if version > len(MIGRATIONS):
        raise NewerVersion(
            f"The pieces in {path} were kept by a newer coach (their form is "
            f"{version}; coach {__version__} knows {len(MIGRATIONS)}). Use that one, or "
            "bring this one up to date. Nothing was changed."
        )
    return version


def _migrate(db: sqlite3.Connection, path: Path) -> None:
    """Migrate the file, each migration in one transaction with its record."""
    for number, steps in enumerate(MIGRATIONS, start=1):
        with transaction(db, "IMMEDIATE"):
            if _version(db, path) >= number:  # another coach was quicker
                continue
            for step in steps:
                _do(db, path, step)
            db.execute(f"PRAGMA application_id = {APPLICATION_ID}")
            db.execute(f"PRAGMA user_version = {number}")


def _do(db: sqlite3.Connection, path: Path, step: Step) -> None:
    if isinstance(step, str):
        db.execute(step)
        return
    try:
        step(db)
    except Damaged as error:
        raise damaged_error(path, str(error)) from error


def _lenient(data: bytes) -> str:
    """Decode text that may be damaged; the checksums tell whether it is."""
    return data.decode("utf-8", "replace")
