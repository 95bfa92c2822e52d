"""Writing the files that commands make, never over another one unless asked for."""

import argparse
import os
import re
import sys
from pathlib import Path
from typing import Final

from coach.text import one_line

_LOOKED_AT: Final = 2**16
_DATABASE: Final = b"SQLite format 3"
_PROJECT: Final = re.compile(rb"^(\xef\xbb\xbf)?[\"']?coach[\"']?\s*:\s*\d", re.MULTILINE)


def add_output(parser: argparse.ArgumentParser, metavar: str) -> None:
    """Add the options for an output file, and for overwriting one."""
    parser.add_argument("-o", "--output", default="-", metavar=metavar, help="the file to write")
    parser.add_argument("--replace", action="store_true", help="write over a file that is there")


def write_output(path: Path, text: str, *, over: bool) -> int:
    """Write a file and say so, or say why not.

    Args:
        path: Where it goes.
        text: Its content, written in UTF-8.
        over: Whether an existing file may be overwritten.

    Returns:
        The exit status.
    """
    from coach.piece.piece_errors import PieceError  # noqa: PLC0415 - only what writes needs it
    from coach.piece.storage.atomic_write import ANYBODYS_FILE, write_whole  # noqa: PLC0415 - the same

    name = one_line(str(path))
    try:
        check_target(path)
        if os.path.lexists(path) and not over:
            return refuse_call(f"{name} is there already; --replace writes over it.")
        write_whole(path, text.encode("utf-8"), replace=over, mode=ANYBODYS_FILE)
    except (PieceError, OSError, ValueError) as fault:
        return refuse_call(str(fault) if isinstance(fault, PieceError) else
                       f"{name} cannot be written: {write_failure(fault)}.")  # fmt: skip
    print(f"{name} is written.")
    return 0


def check_target(path: Path) -> None:
    """Check that a file to be written overwrites no project and no store.

    Raises:
        CannotKeep: It would, and what it is made from would be gone.
    """
    from coach.piece.piece_errors import CannotKeep  # noqa: PLC0415 - only what writes needs it

    try:
        if not path.is_file():
            return
        with path.open("rb") as file:
            begins = file.read(_LOOKED_AT)
    except (OSError, ValueError):
        return
    if begins.startswith(_DATABASE) or _PROJECT.search(begins):
        what = "the file of your pieces" if begins.startswith(_DATABASE) else "a project file"
        raise CannotKeep(f"{path} is {what}: nothing is written over it. Name another place.")


def write_failure(fault: OSError | ValueError) -> str:
    """Return why a file cannot be written, in a few words."""
    return fault.strerror if isinstance(fault, OSError) and fault.strerror else "no such name"


def refuse_call(said: str, status: int = 2) -> int:
    """Print why a call is refused, and return its exit status."""
    sys.stderr.write(f"coach: {one_line(said)}\n")
    return status
