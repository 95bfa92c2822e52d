"""What a cut list can be asked for on the command line: stock in hand, how sure to reach."""

import argparse
from typing import Final

from coach.plan.cord.cut_list import SURE
from coach.plan.resize.refit import CannotRefit

_LEAST, _MOST = 50.0, 99.9
_SIGNS: Final = " %"


def add_cutting_options(parser: argparse.ArgumentParser) -> None:
    """Add what a cut list can be asked for."""
    cord = parser.add_argument_group("cord")
    cord.add_argument(
        "--hank", metavar="[CORD=]AMOUNTS", action="append", default=[],
        help="balls or hanks in hand, such as 'clay=25 m, 12 m' or 'reed=500 g'",
    )  # fmt: skip
    cord.add_argument(
        "--sure", metavar="NUMBER", default="",
        help="how many pieces in 100 must have enough cord, such as 99 (95 if left out)",
    )  # fmt: skip


def sure_of(options: argparse.Namespace) -> float:
    """Return `--sure 99` or `99 %` as 0.99, and 0.95 for nothing.

    Raises CannotRefit for what is no number between 50 and 99.9.
    """
    text: str = options.sure
    if not text:
        return SURE
    try:
        number = float(text.rstrip(_SIGNS))
    except ValueError:
        number = 0.0
    if not _LEAST <= number <= _MOST:
        raise CannotRefit(
            "--sure: Say how many pieces in 100 must have enough cord, from 50 to 99.9."
        )
    return number / 100
