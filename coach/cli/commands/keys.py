"""`coach keys`: the name of a pressed key or pedal, and its action on the bench."""

import argparse
import os

from coach.cli import terminal
from coach.cli.bench_setup import set_up, settings_of
from coach.cli.written import refused
from coach.tui.drawing.cells import ASCII


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add nothing: it is called alone."""
    del parser


def run(options: argparse.Namespace) -> int:
    """Show keys until `q` is pressed twice; 2 if there is no terminal."""
    del options
    if not terminal.is_there():
        return refused(terminal.NO_TERMINAL)
    # The screen is loaded only to be shown: shells ask every command for its arguments.
    from coach.tui.key_probe import KeysApp  # noqa: PLC0415 - see above
    from coach.tui.layout.styled_text import Inks  # noqa: PLC0415 - see above

    setup = set_up(os.environ)
    inks = Inks(setup.palette, plain=setup.glyphs is ASCII)
    return KeysApp(setup.keys, inks, settings_of(os.environ).report).run() or 0
