"""The command line: `coach` and its verbs. Each verb is loaded only when it is called."""

import argparse
import sys
from collections.abc import Sequence
from importlib import import_module

from coach import __version__

_DONE, _WRONG_CALL, _STOPPED = 0, 2, 130


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the coach. Gives 0 when done, 1 when the input has errors, 2 for a wrong call."""
    options = _parser().parse_args(arguments)
    verb = import_module(f"coach.verbs.{options.verb or 'bench'}")
    try:
        return int(verb.run(options))
    except BrokenPipeError:
        # Whoever read the output has gone; closing it again must not fail either.
        sys.stderr.close()
        return _DONE
    except KeyboardInterrupt:
        return _STOPPED
    except Exception as fault:  # noqa: BLE001 - no traceback ever reaches a maker
        return int(import_module("coach.verbs.fault").tell(fault))


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="coach",
        description="A coach beside the board: what to cut, which strand knots next, and never a "
        "lost count. Alone, it opens the list of pieces and projects.",
    )
    parser.add_argument("--version", action="version", version=f"coach {__version__}")
    verbs = parser.add_subparsers(dest="verb", metavar="VERB")
    check = verbs.add_parser("check", help="say what is wrong in project files")
    check.add_argument("files", nargs="+", metavar="FILE")
    check.add_argument("--json", action="store_true", help="as one JSON object")
    plan = verbs.add_parser("plan", help="what to cut, how many knots, how large, how long")
    plan.add_argument("file", metavar="FILE", help="a project file, or a name from the shelf")
    plan.add_argument("--json", action="store_true", help="as one JSON object")
    knot = verbs.add_parser("knot", help="start a piece, or go on with the one under way")
    knot.add_argument("file", metavar="FILE", help="a project file, or a name from the shelf")
    knot.add_argument("--name", default="", help="what to call the piece that it starts")
    knot.add_argument("--again", action="store_true", help="start another piece")
    pieces = verbs.add_parser("pieces", help="list the pieces, last touched first")
    pieces.add_argument("--json", action="store_true", help="as one JSON list")
    return parser


if __name__ == "__main__":
    sys.exit(main())
