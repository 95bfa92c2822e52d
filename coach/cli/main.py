"""The command line: `coach` and its verbs. Each verb is loaded only when it is called."""

import argparse
import gc
import sys
from collections.abc import Sequence
from importlib import import_module

from coach import __version__
from coach.cli.calls import CALLS

_VERSION = f"coach {__version__}"
_DONE, _STOPPED = 0, 130
_RUBBISH = 100_000  # objects until rubbish is looked for: nearly all that loading makes is kept
_MODULES = {"import": "import_piece"}  # a module cannot be called that


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the coach. Gives 0 when done, 1 when the input has errors, 2 for a wrong call."""
    if arguments is not None:
        return _run(arguments)
    gc.set_threshold(_RUBBISH)
    status = _run(sys.argv[1:])
    gc.freeze()  # what is left goes with the process, and is not looked through once more
    return status


def _run(given: Sequence[str]) -> int:
    if list(given) == ["--version"]:  # asked by scripts, who need not wait for a parser
        print(_VERSION)
        return _DONE
    options = parser(*given[:1]).parse_args(given)
    name = _MODULES.get(options.verb, options.verb or "home")
    verb = import_module(f"coach.cli.commands.{name}")
    try:
        return int(verb.run(options))
    except BrokenPipeError:
        # Whoever read the output has gone; closing it again must not fail either.
        sys.stderr.close()
        return _DONE
    except KeyboardInterrupt:
        return _STOPPED
    except Exception as fault:  # noqa: BLE001 - no traceback ever reaches a maker
        return int(import_module("coach.cli.fault").tell(fault))


def parser(first: str = "") -> argparse.ArgumentParser:
    """Return the parser of the whole command line, or of no more than a call that begins so."""
    whole = argparse.ArgumentParser(
        prog="coach",
        description="A coach beside the board: what to cut, which strand knots next, and never a "
        "lost count. Alone, it opens the list of pieces and projects.",
    )
    whole.add_argument("--version", action="version", version=_VERSION)
    verbs = whole.add_subparsers(dest="verb", metavar="VERB")
    for name in [first] if first in CALLS else CALLS:
        what, example, add_arguments = CALLS[name]
        verb = verbs.add_parser(
            name, help=what, description=f"{what.capitalize()}.", epilog=f"Example: {example}"
        )
        add_arguments(verb)
    return whole


if __name__ == "__main__":
    sys.exit(main())
