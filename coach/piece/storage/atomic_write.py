"""Files that are written whole or not at all, and never over another unasked."""

import os
import secrets
import stat
from contextlib import suppress
from pathlib import Path
from typing import Final

from coach.piece.piece_errors import AlreadyThere, CannotKeep
from coach.piece.storage.folders import OWN_FILE

ANYBODYS_FILE: Final = 0o666  # less what the maker's own mask takes away
_FRESH: Final = (
    os.O_WRONLY | os.O_CREAT | os.O_EXCL
    | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_BINARY", 0)
)  # fmt: skip
"""Nothing that lies there already, such as a link that somebody planted, is written through."""


def write_whole(path: Path, data: bytes, *, replace: bool = False, mode: int = OWN_FILE) -> Path:
    """Write a file beside its place, and rename it; give its path.

    Args:
        path: Where it is to stand; its folder must be there.
        data: What it is to hold.
        replace: Whether a file that stands there may be replaced.
        mode: Who may do what with it; by default it is its owner's alone.

    Raises:
        AlreadyThere: A file stands there and may not be replaced.
        CannotKeep: It cannot be written; nothing is left of it then.
    """
    try:
        beside = path.with_name(f".{path.name[:80]}.{secrets.token_hex(8)}.part")
        if not replace and os.path.lexists(path):
            raise _already(path)
        _see_file(path)
        handle = os.open(beside, _FRESH, mode)
        try:
            with os.fdopen(handle, "wb") as file:
                file.write(data)
                file.flush()
                os.fsync(file.fileno())
            _put(beside, path, replace=replace)
        finally:
            with suppress(OSError):
                beside.unlink(missing_ok=True)
    except (OSError, ValueError) as error:
        said = getattr(error, "strerror", None) or str(error)
        raise CannotKeep(
            f"{path} cannot be written: {said.lower()}. Name another place."
        ) from error
    return path


def _see_file(path: Path) -> None:
    """See that nothing but a file is replaced. Raises CannotKeep."""
    with suppress(FileNotFoundError):
        if not stat.S_ISREG(path.stat().st_mode):
            raise CannotKeep(f"{path} is not a file: nothing is written there. Name another place.")


def _put(beside: Path, path: Path, *, replace: bool) -> None:
    """Give a finished file its name; where it may not replace one, a link sees that it cannot."""
    if replace:
        beside.replace(path)
        return
    try:
        os.link(beside, path)
    except FileExistsError as error:
        raise _already(path) from error
    except OSError:  # this file system has no links
        if os.path.lexists(path):
            raise _already(path) from None
        beside.replace(path)


def _already(path: Path) -> AlreadyThere:
    return AlreadyThere(f"There is a file {path} already. Name another, or say --replace.")
