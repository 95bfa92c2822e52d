"""`coach plan FILE`: what to cut, how many knots, how large, how long; for people or programs."""

import argparse
from typing import Any, Final

from coach.cli.bench_setup import add_units, unit_of
from coach.cli.hanks import read_hanks, stock_json, stocked
from coach.cli.output import print_json
from coach.cli.project_files import read_file
from coach.cli.reports.plan_page import Sheet, page
from coach.cli.shelf import NoSuchProject, add_project
from coach.cli.size_options import add_size_options, wished
from coach.cli.skill_question import skill_asked, skill_set
from coach.cli.written import refused
from coach.piece.reports.forecast import time_of
from coach.plan.as_json import plan_json
from coach.plan.cord.cut_list import cut_list, with_repeats
from coach.plan.plan_model import Plan
from coach.plan.resize.refit import CannotRefit

_MOST_COPIES: Final = 1000


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what it can be called with: another size, stock in hand, copies, units."""
    add_project(parser)
    parser.add_argument("--json", action="store_true", help="as one JSON object")
    add_size_options(parser)
    cord = parser.add_argument_group("cord")
    cord.add_argument(
        "--hank", metavar="[CORD=]AMOUNTS", action="append", default=[],
        help="balls or hanks in hand, such as 'clay=25 m, 12 m' or 'reed=500 g'",
    )  # fmt: skip
    cord.add_argument("--copies", metavar="NUMBER", type=int, default=1, help="cut for so many")
    add_units(cord)


def run(options: argparse.Namespace) -> int:
    """Print the plan of one project; 1 if its file has errors, 2 if the call asks for too much."""
    try:
        plan = read_file(options.project)
        if plan is None:
            return 1
        sheet = sheet_of(plan, options)
    except (NoSuchProject, CannotRefit) as error:
        return refused(str(error))
    if options.json:
        print_json(as_object(sheet))
    else:
        print("\n".join(page(sheet)))
    return 0


def sheet_of(plan: Plan, options: argparse.Namespace) -> Sheet:
    """Return all that is to be told of a plan, changed as the options wish. Raises CannotRefit."""
    if not 1 <= options.copies <= _MOST_COPIES:
        raise CannotRefit(f"--copies: from 1 to {_MOST_COPIES} can be cut at once.")
    wish = wished(plan, options)
    unit = unit_of(options.units)
    cuts = with_repeats(cut_list(wish.plan, unit, options.copies), wish.plan)
    hanks = read_hanks(options.hank, wish.plan.project.cords)
    stock = tuple(stocked(cuts, hanks))
    time = time_of(wish.plan, skill_set() if options.json else skill_asked(), plan)
    return Sheet(wish.plan, cuts, time, unit, options.copies, wish.changes, stock)


def as_object(sheet: Sheet) -> dict[str, Any]:
    """Return the sheet for other programs; see `coach.plan.as_json`."""
    time = sheet.time
    whole = {"low": round(time.low_s), "likely": round(time.likely_s), "high": round(time.high_s)}
    told = plan_json(sheet.plan, sheet.cuts, whole)
    told["copies"] = sheet.copies
    told["changes"] = list(sheet.changes)
    if sheet.stock:
        told["stock"] = stock_json(sheet.stock)
    return told
