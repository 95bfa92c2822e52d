"""Centimetres or inches: what was asked for last is remembered, as the bench remembers it."""

import os
import sys

from coach.cli.bench_setup import settings_of
from coach.settings.settings import Units


def unit_of(asked: Units | None) -> Units:
    """Return the unit asked for, which is remembered, or the one that is set."""
    loaded = settings_of(os.environ)
    if loaded.report:
        sys.stderr.write("\n".join(loaded.report) + "\n")
    if asked is not None and asked != loaded.kept.now.units:
        loaded.kept.change(units=asked)
    return loaded.kept.now.units
