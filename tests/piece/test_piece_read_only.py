"""A drive that was pulled out comes back read-only: counts go on waiting until it is writable.

One that turns read-only under open files needs the right to mount; `read_only_drive.py` beside
the faults does it by hand.

Needs POSIX: rights of files.
"""

import os
import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

import pytest
from hand_clock import HandClock

from coach.piece import Sitting, Store, look, start_piece

KNOTS = ["clove hitch"] * 9
NOBODY = 65534
PLACES = (None, "/tmp", "/var/tmp", "/dev/shm")  # noqa: S108 - each call makes a name of its own


@contextmanager
def whom_the_system_refuses() -> Iterator[None]:
    """Be somebody whom the system can refuse to write, as it cannot refuse root."""
    root = os.geteuid() == 0
    if root:
        os.seteuid(NOBODY)
    try:
        yield
    finally:
        if root:
            os.seteuid(0)


def own_folder() -> Path:
    """Make a folder where this user may; one for temporary files may be another's own."""
    for place in PLACES:
        with suppress(OSError):
            return Path(tempfile.mkdtemp(dir=place))
    raise AssertionError(f"no folder can be made in any of {PLACES}")


@pytest.fixture
def drive() -> Iterator[Path]:
    with whom_the_system_refuses():
        folder = own_folder()
        (folder / "in").mkdir()
        yield folder / "in"
    shutil.rmtree(folder)


def set_writable(drive: Path, *, writable: bool) -> None:
    for file in drive.iterdir():
        file.chmod(0o600 if writable else 0o400)
    drive.chmod(0o700 if writable else 0o500)


def test_counts_wait_while_the_drive_is_out_and_while_it_is_read_only(drive: Path) -> None:
    """The file's own rights refuse the writing; it is told, and all is stored in the end."""
    clock, out = HandClock(), drive.with_name("out")
    with Store(drive / "coach.db") as store:
        number = start_piece(
            store, clock, title="Ebb", project_text="x", source="x", total=len(KNOTS)
        )
        sitting = Sitting(store, clock, number, KNOTS)
        sitting.count(2)
        drive.rename(out)
        sitting.count(3)
        assert "not there any more" in str(sitting.trouble)
        out.rename(drive)
        set_writable(drive, writable=False)
        assert not sitting.keep()
        assert "Nothing can be kept" in str(sitting.trouble)
        assert sitting.count().done == 6
        assert sitting.waiting == 4
        set_writable(drive, writable=True)
        assert sitting.keep()
        assert (sitting.waiting, sitting.trouble) == (0, None)
        assert look(store, number).done == 6
