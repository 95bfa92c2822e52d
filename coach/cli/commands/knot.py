"""`coach knot FILE`: start a piece, or go on with the one under way."""

import argparse
import os
import sys
from typing import TYPE_CHECKING

from coach.cli import terminal
from coach.cli.bench_setup import set_up
from coach.cli.desk import Desk, Unsound
from coach.cli.open_store import open_store
from coach.cli.options import asks
from coach.cli.skill_question import skill_set
from coach.piece import PieceError, SystemClock
from coach.session.ports import CannotOpen, OnBench, Opening
from coach.text import one_line

if TYPE_CHECKING:
    from coach.cli.size_options import Wished


def run(options: argparse.Namespace) -> int:
    """Open the bench; 1 if the project has errors, 2 if it cannot be opened or kept."""
    plain = options.plain or (terminal.is_there() and terminal.is_dumb())
    if not plain and not terminal.is_there():
        sys.stderr.write(f"{terminal.NO_TERMINAL}\n")
        return 2
    try:
        with open_store() as store:
            return _run(Desk(store, SystemClock(), skill_set), options, plain=plain)
    except Unsound as error:
        sys.stderr.write("\n".join(error.lines) + "\n")
        return 1
    except (CannotOpen, PieceError) as error:
        sys.stderr.write(f"coach: {one_line(str(error))}\n")
        return 2


def _run(desk: Desk, options: argparse.Namespace, *, plain: bool) -> int:
    """Open the bench with the maker's settings, as a screen or in plain lines.

    The name of a piece under way is seen before the piece is read.
    """
    under_way = None if plain or _another(options) else desk.under_way(options.file)
    on_bench = (
        Opening(under_way, lambda: opened(desk, options)) if under_way else opened(desk, options)
    )
    setup = set_up(os.environ)
    if isinstance(on_bench, OnBench) and plain:
        from coach.cli.plain_lines import walk

        return walk(on_bench, SystemClock(), setup.keys, setup.aids)
    # the screen is loaded only where there is one
    from coach.tui.app import run_bench

    return run_bench(
        on_bench, keys=setup.keys, palette=setup.palette, glyphs=setup.glyphs, aids=setup.aids
    )


def opened(desk: Desk, options: argparse.Namespace) -> OnBench:
    """Return the piece that the call asks for: the one under way, or a new one, fitted as wished.

    Raises CannotOpen, PieceError.
    """
    wished = _wished(desk, options) if asks(options) else None
    another = _another(options)
    found = None if another else desk.unfinished(options.file)
    if found:
        return found
    wish, plan = (wished.wish, wished.plan) if wished else (None, None)
    return desk.begin(options.file, wish, options.name, plan=plan, again=another)


def _another(options: argparse.Namespace) -> bool:
    """Return whether a call asks for another piece than the one under way."""
    return bool(options.again or options.name or asks(options))


def _wished(desk: Desk, options: argparse.Namespace) -> "Wished":
    from coach.cli.size_options import wished
    from coach.plan.resize.refit import CannotRefit

    try:
        return wished(desk.plan(options.file), options)
    except CannotRefit as error:
        raise CannotOpen(str(error)) from error
