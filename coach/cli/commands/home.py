"""`coach` alone: the list of pieces under way and of the projects that come with it."""

import argparse
import os
import sys

from coach.cli import terminal
from coach.cli.bench_setup import set_up
from coach.cli.desk import Desk
from coach.cli.open_store import open_store
from coach.cli.skill_question import skill_set
from coach.piece import PieceError, SystemClock
from coach.text import one_line
from coach.tui.app import run_list


def run(options: argparse.Namespace) -> int:
    """Open the list; 2 if there is no terminal, or nothing can be kept."""
    del options
    if not terminal.is_there():
        sys.stderr.write(f"{terminal.NO_TERMINAL}\n")
        return 2
    try:
        with open_store() as store:
            setup = set_up(os.environ)
            return run_list(
                Desk(store, SystemClock(), skill_set),
                keys=setup.keys,
                palette=setup.palette,
                glyphs=setup.glyphs,
                aids=setup.aids,
            )
    except PieceError as error:
        sys.stderr.write(f"coach: {one_line(str(error))}\n")
        return 2
