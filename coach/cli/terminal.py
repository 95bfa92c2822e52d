"""Whether there is a terminal that can show a screen."""

import os
import sys

NO_TERMINAL = (
    "The bench needs a terminal for keys and screen, and there is none here. "
    "`coach knot FILE --plain` works with lines of text, and `coach plan FILE` prints the plan."
)


def is_dumb() -> bool:
    """Return whether the terminal can only print line after line."""
    return os.environ.get("TERM", "") == "dumb"


def is_interactive() -> bool:
    """Return whether input and both outputs are terminals, for keys and a screen."""
    try:
        streams = (sys.stdin.fileno(), sys.stdout.fileno(), sys.stderr.fileno())
    except (AttributeError, OSError, ValueError):
        return False
    return all(os.isatty(stream) for stream in streams)
