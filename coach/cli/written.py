"""Files that a command writes: never over another one unless that was asked for."""

import argparse
import sys
from pathlib import Path

from coach.text import one_line


def add_output(parser: argparse.ArgumentParser, metavar: str) -> None:
    """Say that what is made can be written to a file, and over one that is there."""
    parser.add_argument("-o", "--output", default="-", metavar=metavar, help="the file to write")
    parser.add_argument("--replace", action="store_true", help="write over a file that is there")


def written(path: Path, text: str, *, over: bool) -> int:
    """Write a file and say so; one that is there only with `over`. Return the exit status."""
    name = one_line(str(path))
    try:
        if path.exists() and not over:
            return refused(f"{name} is there already; --replace writes over it.")
        path.write_text(text, encoding="utf-8")
    except (OSError, ValueError) as fault:
        return refused(f"{name} cannot be written: {why(fault)}.")
    print(f"{name} is written.")
    return 0


def why(fault: OSError | ValueError) -> str:
    """Return why a file cannot be written, in a few words."""
    return fault.strerror if isinstance(fault, OSError) and fault.strerror else "no such name"


def refused(said: str, status: int = 2) -> int:
    """Say why a call cannot be done. Return its exit status."""
    sys.stderr.write(f"coach: {one_line(said)}\n")
    return status
