"""The coach forked from a process in which all of it is loaded, so that it is there at once.

That process is made by the library when the first is asked for and ends with the tests. Nothing has
run in it, and nothing of the tests is in it.
"""

import gc
import os
import signal
import sys
from collections.abc import Mapping, Sequence
from importlib import import_module
from pkgutil import walk_packages

import coach
from coach.cli.main import main

for _module in walk_packages(coach.__path__, "coach."):
    if _module.name != "coach.__main__":
        import_module(_module.name)
gc.freeze()  # what all forks share is not looked through in each


def run_in_terminal(arguments: Sequence[str], environment: Mapping[str, str]) -> None:
    """Run the coach on the terminal that is there, as a process that was started."""
    os.environ.clear()
    os.environ.update(environment)
    signal.signal(signal.SIGINT, signal.default_int_handler)
    for number, name in enumerate(("stdin", "stdout", "stderr")):
        stream = open(number, "r" if name == "stdin" else "w", encoding="utf-8")  # noqa: PTH123, SIM115 - for the whole run
        setattr(sys, name, stream)
        setattr(sys, f"__{name}__", stream)
    sys.argv = ["coach", *arguments]
    sys.exit(main())
