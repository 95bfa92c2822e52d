"""Unexpected errors: one line for the maker, the details in a file to send along."""

import os
import platform
import re
import shlex
import sys
import traceback
from collections.abc import Sequence
from datetime import UTC, datetime
from pathlib import Path

from coach import __version__
from coach.piece.clock import Clock, SystemClock
from coach.piece.piece_errors import PieceError
from coach.piece.storage.atomic_write import write_whole
from coach.piece.storage.folders import ensure_folder, folders
from coach.text import clean, one_line

_NAME = "fault.txt"
_KEPT = 5
_HEADS = re.compile(r"^(?=coach \S+, Python )", re.MULTILINE)


def report_fault(fault: Exception, given: Sequence[str], clock: Clock | None = None) -> int:
    """Report an unexpected error, and where its details are.

    Args:
        fault: The exception.
        given: The command-line arguments.
        clock: Tells the time; by default the system's.

    Returns:
        The exit status.
    """
    where = _kept(_report(fault, given, (clock or SystemClock()).now_ms()))
    details = f"The details are in {one_line(str(where))}. " if where else ""
    sys.stderr.write(
        f"coach: Something went wrong in the coach itself ({type(fault).__name__}). {details}"
        "Every count that was shown is kept.\n"
    )
    return 1


def _report(fault: Exception, given: Sequence[str], now_ms: int) -> str:
    """Return the details: versions, system, time, the call, the traceback."""
    when = datetime.fromtimestamp(now_ms / 1000, UTC).astimezone()
    call = one_line(shlex.join(["coach", *given]))
    trace = clean("".join(traceback.format_exception(fault)))
    return (
        f"coach {__version__}, Python {platform.python_version()}, {platform.platform()}\n"
        f"{when:%Y-%m-%d %H:%M:%S %z}\n$ {call}\n{trace}\n"
    )


def _kept(report: str) -> Path | None:
    """Save a report above the last ones; None where nothing can be written."""
    try:
        path = ensure_folder(folders(os.environ).cache) / _NAME
        earlier = path.read_text(encoding="utf-8", errors="replace") if path.is_file() else ""
        reports = [report, *filter(str.strip, _HEADS.split(earlier))]
        return write_whole(path, "".join(reports[:_KEPT]).encode(), replace=True)
    except (PieceError, OSError):
        return None
