"""`coach knot FILE`: start a piece, or go on with the one under way."""

import argparse
import os
import sys

from coach.bench.app import run_bench
from coach.bench.shelf import CannotOpen, OnBench
from coach.piece import PieceError, Store, SystemClock, folders
from coach.text import one_line
from coach.verbs import terminal
from coach.verbs.desk import Desk, Unsound


def run(options: argparse.Namespace) -> int:
    """Open the bench; 1 if the project has errors, 2 if it cannot be opened or kept."""
    if not terminal.is_there():
        sys.stderr.write(f"{terminal.NO_TERMINAL}\n")
        return 2
    try:
        with Store(folders(os.environ).database) as store:
            return run_bench(opened(Desk(store, SystemClock()), options))
    except Unsound as error:
        sys.stderr.write("\n".join(error.lines) + "\n")
        return 1
    except (CannotOpen, PieceError) as error:
        sys.stderr.write(f"coach: {one_line(str(error))}\n")
        return 2


def opened(desk: Desk, options: argparse.Namespace) -> OnBench:
    """Give the piece that the call asks for: the one under way, or a new one."""
    if not options.again and not options.name:
        found = desk.unfinished(options.file)
        if found:
            return found
    return desk.begin(options.file, options.name)
