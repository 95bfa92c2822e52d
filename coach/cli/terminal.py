"""Whether there is a terminal to show a screen on."""

import os
import sys

NO_TERMINAL = (
    "The bench needs a terminal for keys and screen, and there is none here. "
    "`coach knot FILE --plain` works with lines of text, and `coach plan FILE` prints the plan."
)


def is_dumb() -> bool:
    """Return whether the terminal can only write line under line."""
    return os.environ.get("TERM", "") == "dumb"


def is_there() -> bool:
    """Return whether keys can be read and a screen drawn: input and both outputs are terminals."""
    try:
        streams = (sys.stdin.fileno(), sys.stdout.fileno(), sys.stderr.fileno())
    except (AttributeError, OSError, ValueError):
        return False
    return all(os.isatty(stream) for stream in streams)
