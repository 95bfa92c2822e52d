"""`coach knot FILE`: begin a piece, or go on with the one under way."""

import argparse
import os
import sys

from coach import tui
from coach.cli import lazy_actions, terminal
from coach.cli.bench_setup import add_units, chosen_units, set_up
from coach.cli.file_output import refuse_call
from coach.cli.open_store import open_store
from coach.cli.options.colours_asked import colourway_of
from coach.cli.options.size_options import KEEPS, asks_for_size, cords_wished, refit_as_asked
from coach.cli.orders.order_options import add_order_options, whole_colourway
from coach.cli.project_finder import add_project
from coach.cli.workshop.project_plans import FaultyProject
from coach.cli.workshop.workshop import Workshop
from coach.cli.workshop.workshop_setup import with_order_desk, workshop_of_maker
from coach.piece import PieceError, Store, SystemClock
from coach.plan.plan_model import Plan
from coach.plan.resize.refit import CannotRefit
from coach.plan.resize.size_request import Wish
from coach.session.ports import CannotOpen, OnBench


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what it can be called with."""
    add_project(parser, also="the name of a piece", needed=False)
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
    add_units(parser)


def run(options: argparse.Namespace) -> int:
    """Open the bench; 1 if the project has errors, 2 if it cannot be opened or stored."""
    plain = options.plain or (terminal.is_interactive() and terminal.is_dumb())
    if options.new:
        return _new(options.project, plain=plain or not terminal.is_interactive())
    if not options.project:
        return refuse_call("Name a project, or say --new to knot without a pattern.")
    if not plain and not terminal.is_interactive():
        return refuse_call(terminal.NO_TERMINAL)
    try:
        with open_store() as store:
            return _run(store, options, plain=plain)
    except FaultyProject as error:
        sys.stderr.write("\n".join(error.lines) + "\n")
        return 1
    except (CannotOpen, PieceError) as error:
        return refuse_call(str(error))


def _new(file: str, *, plain: bool) -> int:
    """Knot without a pattern, on the screen or in plain lines."""
    try:
        with open_store() as store:
            setup = set_up(os.environ)
            workshop = workshop_of_maker(store, setup.aids.kept)
            return lazy_actions.run_knot_first(workshop, file, setup, plain=plain)
    except PieceError as error:
        return refuse_call(str(error))


def _run(store: Store, options: argparse.Namespace, *, plain: bool) -> int:
    """Open the bench with the maker's settings, as a screen or in plain lines."""
    if options.units:
        chosen_units(options.units)
    setup = set_up(os.environ)
    workshop = workshop_of_maker(store, setup.aids.kept)
    on_bench = open_or_begin(workshop, options)
    if plain:
        return lazy_actions.walk(on_bench, SystemClock(), setup.keys, setup.aids)
    aids = with_order_desk(workshop, store, setup.aids)
    return tui.run_bench(
        on_bench, keys=setup.keys, palette=setup.palette, glyphs=setup.glyphs, aids=aids
    )


def open_or_begin(workshop: Workshop, options: argparse.Namespace) -> OnBench:
    """Return the piece that the call asks for: the one under way, or a new one.

    Raises:
        CannotOpen, PieceError: It cannot be opened or stored.
    """
    colourway = whole_colourway(options)
    if options.order or options.copies or (options.colourway and not colourway):
        return lazy_actions.begin_or_open(workshop, options)
    piece = workshop.named(options.project)
    if piece:
        return _gone_on_with(workshop, piece.id, options)
    if not (options.again or options.name or asks_for_size(options) or colourway):
        found = workshop.unfinished(options.project)
        return found or workshop.begin(options.project, again=False)
    wish, plan = _wished(workshop, options)
    return workshop.begin(options.project, wish, options.name, plan=plan)


def _gone_on_with(workshop: Workshop, piece_id: int, options: argparse.Namespace) -> OnBench:
    """Return a piece by its name, or another one like it. Raises CannotOpen, PieceError."""
    if asks_for_size(options) or options.colourway:
        raise CannotOpen(KEEPS)
    if options.again or options.name:
        return workshop.again(piece_id, options.name)
    return workshop.open(piece_id)


def _wished(workshop: Workshop, options: argparse.Namespace) -> tuple[Wish | None, Plan | None]:
    """Return the wish for size and colours, and its plan if that is compiled already.

    Raises:
        CannotOpen: The wish is impossible.
    """
    way = whole_colourway(options)
    if not (way or asks_for_size(options)):
        return None, None
    try:
        plan = workshop.plan(options.project, cords_wished(options))
        sized = refit_as_asked(plan, options) if asks_for_size(options) else None
        if sized and not way:
            return sized.wish, sized.plan
        ways = plan.project.colourways
        colours = Wish(colours=ways[colourway_of(plan.project, way)])
    except CannotRefit as error:
        raise CannotOpen(str(error)) from error
    return (sized.wish.also(colours) if sized else colours), None
