"""`coach keys`: what a pressed key or pedal is called, and what it would do on the bench."""

import argparse
import os
import sys

from coach.bench.cells import ASCII
from coach.bench.keys_app import KeysApp
from coach.bench.paint import Inks
from coach.verbs import terminal
from coach.verbs.setup import set_up, settings_of


def run(options: argparse.Namespace) -> int:
    """Show keys until `q` is pressed twice; 2 if there is no terminal."""
    del options
    if not terminal.is_there():
        sys.stderr.write(f"{terminal.NO_TERMINAL}\n")
        return 2
    setup = set_up(os.environ)
    inks = Inks(setup.palette, plain=setup.glyphs is ASCII)
    return KeysApp(setup.keys, inks, settings_of(os.environ).report).run() or 0
