"""Whether there is a terminal to show a screen on."""

import os
import sys

NO_TERMINAL = (
    "coach: the bench needs a terminal for keys and screen, and there is none here. "
    "`coach plan FILE` prints without one."
)


def is_there() -> bool:
    """Give whether keys can be read and a screen drawn: input and both outputs are terminals."""
    try:
        streams = (sys.stdin.fileno(), sys.stdout.fileno(), sys.stderr.fileno())
    except (AttributeError, OSError, ValueError):
        return False
    return all(os.isatty(stream) for stream in streams)
