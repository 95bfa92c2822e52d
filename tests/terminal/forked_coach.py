"""The coach forked from a process in which all of it is loaded, so that it is there at once.

That process is made by the library when the first is asked for and ends with the tests. Nothing has
run in it, and nothing of the tests is in it.
"""

import gc
import os
import sys
from collections.abc import Sequence
from importlib import import_module
from pkgutil import walk_packages

import coach
from coach.cli.main import main

for _module in walk_packages(coach.__path__, "coach."):
    if _module.name != "coach.__main__":
        import_module(_module.name)
gc.freeze()  # what all forks share is not looked through in each


def run(arguments: Sequence[str]) -> None:
    """Run the coach with the streams that are there, as a process that was started."""
    sys.argv = ["coach", *arguments]
    sys.exit(main())


def run_when_bid(arguments: Sequence[str]) -> None:
    """Run the coach once a byte has come in, so that several can be let off at one instant."""
    os.read(0, 1)
    run(arguments)
