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
    """Write a file under a temporary name, and rename it once it is on the disk."""
    beside = path.with_name(f".{path.name[:80]}.{secrets.token_hex(8)}.part")
    try:
        handle = os.open(beside, _FRESH, mode)
    except FileExistsError as error:  # nobody guesses such a name by chance
        raise PermissionError(errno.EPERM, "what lies beside it is not ours") from error
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        _name(beside, path, replace=replace)
    finally:
        with suppress(OSError):
            beside.unlink(missing_ok=True)


def _name(beside: Path, path: Path, *, replace: bool) -> None:
    """Give a finished file its name; where it may not replace one, a link sees that it cannot."""
    if replace:
        beside.replace(path)
        return
    try:
        os.link(beside, path)
    except FileExistsError:
        raise
    except OSError:  # this file system has no links
        if os.path.lexists(path):
            raise FileExistsError(path) from None
        beside.replace(path)
