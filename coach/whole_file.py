"""Writing a file whole or not at all: to a temporary name beside it, then renamed."""

import errno
import os
import secrets
from contextlib import suppress
from pathlib import Path
from typing import Final

_FRESH: Final = (
    os.O_WRONLY | os.O_CREAT | os.O_EXCL
    | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_BINARY", 0)
)  # fmt: skip
"""Nothing that lies there already, such as a link that somebody planted, is written through."""


def put_whole(path: Path, data: bytes, *, replace: bool, mode: int) -> None:
    """Write a file under a temporary name, and rename it once it is on the disk.

    Args:
        path: Where it is to be; its folder must exist.
        data: Its content.
        replace: Whether it may replace a file of that name.
        mode: Its permissions.

    Raises:
        FileExistsError: There is such a file and it may not be replaced.
        OSError: It cannot be written; nothing is left of it then.
    """
    beside = path.with_name(f".{path.name[:80]}.{secrets.token_hex(8)}.part")
    try:
        handle = os.open(beside, _FRESH, mode)
    except FileExistsError as error:  # nobody guesses such a name by chance
        raise PermissionError(errno.EPERM, "what lies beside it is not ours") from error
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            # Before the rename: otherwise a power cut may leave the new name on an empty file.
            os.fsync(file.fileno())
        _name(beside, path, replace=replace)
    finally:
        with suppress(OSError):
            beside.unlink(missing_ok=True)


def _name(beside: Path, path: Path, *, replace: bool) -> None:
    """Rename a finished file; if it may not replace one, a link makes sure that it cannot."""
    if replace:
        beside.replace(path)
        return
    try:
        # Renaming would replace a file made in the meantime; a link fails then.
        os.link(beside, path)
    except FileExistsError:
        raise
    except OSError:  # this file system has no links
        if os.path.lexists(path):
            raise FileExistsError(path) from None
        beside.replace(path)
