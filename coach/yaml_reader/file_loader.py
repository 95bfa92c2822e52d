"""Opening project files: from a path to text, whatever is at that path."""

import errno
import os
import stat
from dataclasses import dataclass
from typing import Final

from coach.yaml_reader.diagnostics import Problem, Span

MOST_BYTES: Final = 2**20

_MARKS: Final = (b"\xff\xfe", b"\xfe\xff")  # byte order marks of UTF-16
_UTF8_MARK: Final = b"\xef\xbb\xbf"


@dataclass(frozen=True, slots=True)
class Loaded:
    """The text of a file, or None with the problem that prevented reading it."""

    text: str | None
    problems: tuple[Problem, ...] = ()


def load(path: str | os.PathLike[str]) -> Loaded:
    """Read a project file; never raises, never waits, reads at most 1 MiB and a byte.

    Only a regular file is opened: opening a pipe would wait for somebody to write into it.
    """
    try:
        return _refused(os.stat(path)) or _decoded(_bytes(path))  # noqa: PTH116 - the same call
    except (OSError, ValueError) as fault:
        return _unread(fault)


def _bytes(path: str | os.PathLike[str]) -> bytes:
    # the file may be exchanged for a pipe after it was looked at: never wait for one
    flags = os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0)
    opened = os.open(path, flags)
    with os.fdopen(opened, "rb") as file:
        return file.read(MOST_BYTES + 1)


def _refused(status: os.stat_result) -> Loaded | None:
    if stat.S_ISDIR(status.st_mode):
        return _problem("FOLDER", "This is a folder.", "Name a project file in it.")
    if not stat.S_ISREG(status.st_mode):
        return _problem("NOT-A-FILE", "This is a pipe or device, not a file.", "Name a file.")
    return _too_large() if status.st_size > MOST_BYTES else None


def _too_large() -> Loaded:
    return _problem(
        "TOO-LARGE", "This file is larger than 1 MiB.", "Is it a project file? Parts keep it short."
    )


def _unread(fault: OSError | ValueError) -> Loaded:
    """Return the result for a file that the operating system would not open or read."""
    number = fault.errno if isinstance(fault, OSError) else None
    if number in (errno.ENOENT, errno.ENOTDIR):
        return _problem("MISSING-FILE", "There is no such file.", "Check the spelling.")
    if number in (errno.EACCES, errno.EPERM):
        hint = "Ask its owner, or change its permissions."
        return _problem("NO-PERMISSION", "This file may not be read.", hint)
    said = fault.strerror if isinstance(fault, OSError) and fault.strerror else "the name is none"
    return _problem("FILE", f"This file cannot be read: {said}.", "Try a copy of it elsewhere.")


def _decoded(data: bytes) -> Loaded:
    if len(data) > MOST_BYTES:
        return _too_large()
    if data.startswith(_MARKS):
        return _problem("ENCODING", "This file is UTF-16.", "Save it as UTF-8.")
    data = data.removeprefix(_UTF8_MARK)
    try:
        text = data.decode()
    except UnicodeDecodeError as fault:
        line, column = _place(data[: fault.start].decode())
        message = f"This is not UTF-8 (byte 0x{data[fault.start]:02X})."
        return _problem("ENCODING", message, "Save the file as UTF-8.", Span(line, column))
    if "\0" in text:
        place = Span(*_place(text[: text.index("\0")]))
        return _problem("BINARY", "This is not a text file.", "Name a project file.", place)
    return Loaded(text)


def _place(before: str) -> tuple[int, int]:
    """Return the line and column, from 1, of what follows a text."""
    lines = before.replace("\r\n", "\n").replace("\r", "\n").split("\n")
    return len(lines), len(lines[-1]) + 1


def _problem(code: str, message: str, hint: str, span: Span | None = None) -> Loaded:
    return Loaded(None, (Problem(code, span or Span(), message, hint),))
