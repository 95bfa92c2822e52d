"""`coach keys`: what a pressed key or pedal is called, and what it would do on the bench."""

import argparse
import os
import sys

from coach.cli import terminal
from coach.cli.bench_setup import set_up, settings_of
from coach.tui.drawing.cells import ASCII
from coach.tui.layout.styled_text import Inks
from coach.tui.screens.key_probe import KeysApp


def run(options: argparse.Namespace) -> int:
    """Show keys until `q` is pressed twice; 2 if there is no terminal."""
    del options
    if not terminal.is_there():
        sys.stderr.write(f"{terminal.NO_TERMINAL}\n")
        return 2
    setup = set_up(os.environ)
    inks = Inks(setup.palette, plain=setup.glyphs is ASCII)
    return KeysApp(setup.keys, inks, settings_of(os.environ).report).run() or 0
