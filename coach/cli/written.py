"""Files that a verb writes: never over another one unless that was asked for."""

import sys
from pathlib import Path

from coach.text import one_line


def written(path: Path, text: str, *, over: bool) -> int:
    """Write a file and say so; one that is there only with `over`. Returns the exit status."""
    name = one_line(str(path))
    try:
        if path.exists() and not over:
            return refused(f"{name} is there already; --replace writes over it.")
        path.write_text(text, encoding="utf-8")
    except (OSError, ValueError) as fault:
        said = fault.strerror if isinstance(fault, OSError) and fault.strerror else "no such name"
        return refused(f"{name} cannot be written: {said}.")
    print(f"{name} is written.")
    return 0


def refused(why: str) -> int:
    """Say what is wrong with a call. Returns its exit status."""
    sys.stderr.write(f"coach: {one_line(why)}\n")
    return 2
