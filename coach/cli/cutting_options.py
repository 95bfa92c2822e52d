"""What a cut list can be asked for on the command line, and the report of what was asked for."""

import argparse
from typing import Final

from coach.cli.bench_setup import unit_of
from coach.cli.size_options import Wished
from coach.piece.reports.forecast import time_of
from coach.plan.cord.cut_list import SURE
from coach.plan.plan_model import Plan
from coach.plan.resize.refit import CannotRefit
from coach.report.plan_report import PlanReport, report_of

_MOST_COPIES: Final = 1000
_LEAST, _MOST = 50.0, 99.9
_SIGNS: Final = " %"


def add_cutting_options(parser: argparse.ArgumentParser) -> argparse._ArgumentGroup:
    """Add what a cut list can be asked for. Return the group that it is in."""
    cord = parser.add_argument_group("cord")
    cord.add_argument(
        "--hank", metavar="[CORD=]AMOUNTS", action="append", default=[],
        help="balls or hanks in hand, such as 'clay=25 m, 12 m' or 'reed=500 g'",
    )  # fmt: skip
    cord.add_argument(
        "--sure", metavar="NUMBER", default="",
        help="of 100 pieces this many are to reach, such as 99; 95 if left out",
    )  # fmt: skip
    cord.add_argument("--copies", metavar="NUMBER", type=int, default=1, help="cut for so many")
    return cord


def report_for(plan: Plan, wish: Wished, options: argparse.Namespace, skill: str) -> PlanReport:
    """Return the report of a plan as it was wished for. Raises CannotRefit.

    `skill` is how used the maker's hands are to knotting, "" where nobody said.
    """
    return report_of(
        wish.plan,
        unit=unit_of(options.units),
        copies=_copies_of(options),
        sure=sure_of(options.sure),
        time=time_of(wish.plan, skill, plan),
        changes=wish.changes,
        one_more=True,
        savings=True,
    )


def _copies_of(options: argparse.Namespace) -> int:
    """Return for how many of the piece is cut. Raises CannotRefit."""
    copies: int = options.copies
    if not 1 <= copies <= _MOST_COPIES:
        raise CannotRefit(f"--copies: from 1 to {_MOST_COPIES} can be cut at once.")
    return copies


def sure_of(text: str) -> float:
    """Return `99` or `99 %` as 0.99, and 0.95 for nothing.

    Raises CannotRefit for what is no number between 50 and 99.9.
    """
    if not text:
        return SURE
    try:
        number = float(text.rstrip(_SIGNS))
    except ValueError:
        number = 0.0
    if not _LEAST <= number <= _MOST:
        raise CannotRefit("--sure: say how many of 100 pieces are to reach, from 50 to 99.9.")
    return number / 100
