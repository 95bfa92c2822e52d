"""`coach plan FILE`: what to cut, how many knots, how large, how long; for people or programs."""

import argparse
from collections.abc import Sequence
from typing import Any

from coach.cli.bench_setup import add_units
from coach.cli.cutting_options import add_cutting_options, report_for
from coach.cli.hanks import CordStock, read_hanks, stock_json, stocked
from coach.cli.output import print_json
from coach.cli.project_files import read_file
from coach.cli.reports.cutting_section import cutting_json
from coach.cli.reports.plan_page import page
from coach.cli.shelf import NoSuchProject, add_project
from coach.cli.size_options import add_size_options, wished
from coach.cli.skill_question import skill_asked, skill_set
from coach.cli.written import refused
from coach.pace.estimate import Range
from coach.plan.as_json import plan_json
from coach.plan.plan_model import Plan
from coach.plan.resize.refit import CannotRefit
from coach.report.plan_report import PlanReport


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what it can be called with: another size, stock in hand, copies, units."""
    add_project(parser)
    parser.add_argument("--json", action="store_true", help="as one JSON object")
    add_size_options(parser)
    add_units(add_cutting_options(parser))


def run(options: argparse.Namespace) -> int:
    """Print the plan of one project; 1 if its file has errors, 2 if the call asks for too much."""
    try:
        plan = read_file(options.project)
        if plan is None:
            return 1
        wish = wished(plan, options)
        report = report_for(plan, wish, options, skill_set() if options.json else skill_asked())
        hanks = read_hanks(options.hank, wish.plan.project.cords)
        stock = stocked(report.cuts, hanks)
    except (NoSuchProject, CannotRefit) as error:
        return refused(str(error))
    if options.json:
        print_json(as_object(wish.plan, report, stock))
    else:
        print("\n".join(page(report, stock, options.project)))
    return 0


def as_object(plan: Plan, report: PlanReport, stock: Sequence[CordStock]) -> dict[str, Any]:
    """Return a plan and its report for other programs; see `coach.plan.as_json`."""
    told = plan_json(plan, report.cuts, _in_seconds(report.time) if report.time else {})
    told["copies"] = report.copies
    told["changes"] = list(report.changes)
    told["cutting"] = cutting_json(plan, report)
    if stock:
        told["stock"] = stock_json(stock)
    return told


def _in_seconds(time: Range) -> dict[str, int]:
    return {"low": round(time.low_s), "likely": round(time.likely_s), "high": round(time.high_s)}
