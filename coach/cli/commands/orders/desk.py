"""`coach desk`: orders, stock and the quote of a project on one screen, changed by keys."""

import argparse
import os

from coach import tui
from coach.cli import terminal
from coach.cli.bench_setup import set_up
from coach.cli.file_output import refuse_call
from coach.cli.open_store import open_store
from coach.cli.orders.maker_desk import read_for_maker
from coach.cli.project_finder import NoSuchProject
from coach.cli.skill_question import skill_set
from coach.cli.workshop.workshop_setup import order_desk, workshop_of_maker
from coach.piece import PieceError, Store


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what it can be called with."""
    parser.add_argument(
        "project", nargs="?", default="", metavar="FILE", help="the project to quote first"
    )


def run(options: argparse.Namespace) -> int:
    """Open the desk; 2 if there is no terminal, or the project cannot be read."""
    if not terminal.is_interactive():
        return refuse_call(
            "The desk needs a terminal; `coach orders` and `coach quote FILE` print."
        )
    try:
        if options.project and read_for_maker(options.project, skill_set) is None:
            return 1
        with open_store() as store:
            return _opened(store, options.project)
    except (NoSuchProject, PieceError) as error:
        return refuse_call(str(error))


def _opened(store: Store, first: str) -> int:
    setup = set_up(os.environ)
    workshop = workshop_of_maker(store, setup.aids.kept)
    shown = order_desk(workshop, store, setup.aids.kept, first)
    store.hurry()
    return tui.run_desk(shown, setup.palette, setup.glyphs)
