"""Writing files whole or not at all, and never over another one unasked."""

import os
import stat
from contextlib import suppress
from pathlib import Path
from typing import Final

from coach.piece.piece_errors import AlreadyThere, CannotKeep
from coach.piece.storage.folders import OWN_FILE
from coach.whole_file import put_whole

ANYBODYS_FILE: Final = 0o666  # less what the maker's own mask takes away


def write_whole(path: Path, data: bytes, *, replace: bool = False, mode: int = OWN_FILE) -> Path:
    """Write a file beside its place, rename it, and return its path.

    Args:
        path: Where it is to be; its folder must exist.
        data: Its content.
        replace: Whether an existing file may be replaced.
        mode: Its permissions; by default its owner's alone.

    Raises:
        AlreadyThere: There is a file and it may not be replaced.
        CannotKeep: It cannot be written; nothing is left of it then.
    """
    try:
        if not replace and os.path.lexists(path):
            raise _already(path)
        _see_file(path)
        put_whole(path, data, replace=replace, mode=mode)
    except FileExistsError as error:
        raise _already(path) from error
    except (OSError, ValueError) as error:
        said = getattr(error, "strerror", None) or str(error)
        raise CannotKeep(
            f"{path} cannot be written: {said.lower()}. Name another place."
        ) from error
    return path


def _see_file(path: Path) -> None:
    """Check that nothing but a regular file is replaced. Raises CannotKeep."""
    with suppress(FileNotFoundError):
        if not stat.S_ISREG(path.stat().st_mode):
            raise CannotKeep(f"{path} is not a file: nothing is written there. Name another place.")


def _already(path: Path) -> AlreadyThere:
    return AlreadyThere(f"There is a file {path} already. Name another, or say --replace.")
