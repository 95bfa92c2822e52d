"""`coach knot FILE`: start a piece, or go on with the one under way."""

import argparse
import os
import sys

from coach.cli import terminal
from coach.cli.asked.knot_first_setup import run_knot_first
from coach.cli.asked.size_options import Wished, asks, cords_wished, wished
from coach.cli.bench_setup import set_up
from coach.cli.desk import Desk, Unsound
from coach.cli.drawer import Drawer
from coach.cli.open_store import open_store
from coach.cli.orders.begin_order import begun_or_open
from coach.cli.orders.order_options import add_order_options
from coach.cli.plain_lines import walk
from coach.cli.shelf import add_project
from coach.cli.skill_question import skill_set
from coach.cli.written import refused
from coach.piece import PieceError, SystemClock, folders
from coach.plan.resize.refit import CannotRefit
from coach.session.ports import CannotOpen, OnBench


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what it can be called with."""
    add_project(parser, needed=False)
    parser.add_argument("--name", default="", help="what to call the piece that it starts")
    parser.add_argument("--again", action="store_true", help="start another piece")
    parser.add_argument(
        "--new", action="store_true", help="knot without a pattern; FILE is where it is written"
    )
    parser.add_argument("--plain", action="store_true", help="as plain lines: enter counts one")
    parser.add_argument(
        "--order", metavar="NAME", default="",
        help="begin an order of that name with --copies, or go on with it",
    )  # fmt: skip
    add_order_options(parser)


def run(options: argparse.Namespace) -> int:
    """Open the bench; 1 if the project has errors, 2 if it cannot be opened or kept."""
    plain = options.plain or (terminal.is_there() and terminal.is_dumb())
    if options.new:
        return _new(options.project, plain=plain or not terminal.is_there())
    if not options.project:
        return refused("name a project, or say --new to knot without a pattern.")
    if not plain and not terminal.is_there():
        return refused(terminal.NO_TERMINAL)
    try:
        with open_store() as store:
            return _run(
                Desk(store, SystemClock(), skill_set, Drawer(folders(os.environ).data)),
                options,
                plain=plain,
            )
    except Unsound as error:
        sys.stderr.write("\n".join(error.lines) + "\n")
        return 1
    except (CannotOpen, PieceError) as error:
        return refused(str(error))


def _new(file: str, *, plain: bool) -> int:
    """Knot without a pattern, on the screen or in plain lines."""
    try:
        with open_store() as store:
            drawer = Drawer(folders(os.environ).data)
            desk = Desk(store, SystemClock(), skill_set, drawer)
            return run_knot_first(desk, file, set_up(os.environ), plain=plain)
    except PieceError as error:
        return refused(str(error))


def _run(desk: Desk, options: argparse.Namespace, *, plain: bool) -> int:
    """Open the bench with the maker's settings, as a screen or in plain lines."""
    on_bench = opened(desk, options)
    setup = set_up(os.environ)
    if plain:
        return walk(on_bench, SystemClock(), setup.keys, setup.aids)
    # The screen is loaded only to be shown: shells ask every command for its arguments.
    from coach.tui.app import run_bench  # noqa: PLC0415 - see above

    return run_bench(
        on_bench, keys=setup.keys, palette=setup.palette, glyphs=setup.glyphs, aids=setup.aids
    )


def opened(desk: Desk, options: argparse.Namespace) -> OnBench:
    """Return the piece that the call asks for: the one under way, or a new one, fitted as wished.

    Raises CannotOpen, PieceError.
    """
    if options.order or options.copies or options.colourway:
        return begun_or_open(desk, options)
    fitted = _wished(desk, options) if asks(options) else None
    another = _another(options)
    found = None if another else desk.unfinished(options.project)
    if found:
        return found
    wish, plan = (fitted.wish, fitted.plan) if fitted else (None, None)
    return desk.begin(options.project, wish, options.name, plan=plan, again=another)


def _another(options: argparse.Namespace) -> bool:
    """Return whether a call asks for another piece than the one under way."""
    return bool(options.again or options.name or asks(options))


def _wished(desk: Desk, options: argparse.Namespace) -> Wished:
    try:
        return wished(desk.plan(options.project, cords_wished(options)), options)
    except CannotRefit as error:
        raise CannotOpen(str(error)) from error
