"""`coach keys`: the name of a pressed key or pedal, and its action on the bench."""

import argparse
import os

from coach import tui
from coach.cli import terminal
from coach.cli.bench_setup import set_up, settings_of
from coach.cli.file_output import refuse_call


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add nothing: it is called alone."""
    del parser


def run(options: argparse.Namespace) -> int:
    """Show keys until `q` is pressed twice; 2 if there is no terminal."""
    del options
    if not terminal.is_interactive():
        return refuse_call(terminal.NO_TERMINAL)
    setup = set_up(os.environ)
    problems = settings_of(os.environ).report
    return tui.run_keys(setup.keys, setup.palette, setup.glyphs, problems)
