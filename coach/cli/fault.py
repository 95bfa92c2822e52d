"""A fault of the coach's own: one line for the maker, the details in a file."""

import os
import sys
import traceback
from pathlib import Path

from coach.piece.piece_errors import PieceError
from coach.piece.storage.folders import folders, made, own_file
from coach.text import one_line

_NAME = "fault.txt"


def tell(fault: Exception) -> int:
    """Say that something went wrong and where the details are; gives the exit status."""
    where = _kept(fault)
    details = f"The details are in {one_line(str(where))}. " if where else ""
    sys.stderr.write(
        f"coach: something went wrong in the coach itself ({type(fault).__name__}). {details}"
        "Every count that was shown is kept.\n"
    )
    return 1


def _kept(fault: Exception) -> Path | None:
    """Write the details down; None where nothing can be written."""
    try:
        path = own_file(made(folders(os.environ).cache) / _NAME)
        path.write_text("".join(traceback.format_exception(fault)), encoding="utf-8")
    except (PieceError, OSError):
        return None
    return path
