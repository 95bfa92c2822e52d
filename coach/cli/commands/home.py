"""`coach` alone: the list of pieces under way and of the shipped projects."""

import argparse
import os

from coach import tui
from coach.cli import terminal
from coach.cli.bench_setup import set_up
from coach.cli.file_output import refuse_call
from coach.cli.open_store import open_store
from coach.cli.workshop.workshop_setup import with_order_desk, workshop_of_maker
from coach.piece import PieceError


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add nothing: it is called alone."""
    del parser


def run(options: argparse.Namespace) -> int:
    """Open the list; 2 if there is no terminal, or the store cannot be used."""
    del options
    if not terminal.is_interactive():
        return refuse_call(terminal.NO_TERMINAL)
    try:
        with open_store() as store:
            setup = set_up(os.environ)
            workshop = workshop_of_maker(store, setup.aids.kept)
            store.hurry()
            return tui.run_list(
                workshop,
                keys=setup.keys,
                palette=setup.palette,
                glyphs=setup.glyphs,
                aids=with_order_desk(workshop, store, setup.aids),
            )
    except PieceError as error:
        return refuse_call(str(error))
