"""`coach plan FILE`: what to cut, how many knots, how large, how long; for people or programs."""

import argparse
from collections.abc import Sequence
from typing import Any

from coach.cli.file_output import refuse_call
from coach.cli.options.cutting_options import (
    CordStock,
    add_cutting_options,
    cut_from_hanks,
    read_hanks,
    stock_json,
    sure_of,
)
from coach.cli.options.piece_options import add_piece_options, read_requested_piece
from coach.cli.orders.stock_lines import stock_use_lines
from coach.cli.output import print_json
from coach.cli.project_finder import NoSuchProject
from coach.cli.reports.cutting_section import cutting_json
from coach.cli.reports.plan_page import render_plan
from coach.cli.skill_question import skill_asked, skill_set
from coach.pace.estimate import Range
from coach.piece import PieceError
from coach.plan.as_json import plan_json
from coach.plan.plan_model import Plan
from coach.plan.resize.refit import CannotRefit
from coach.report.plan_report import PlanReport


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add the arguments: the piece as wished for, stock in hand, copies."""
    add_piece_options(parser)
    add_cutting_options(parser)
    parser.add_argument("--json", action="store_true", help="as one JSON object")


def run(options: argparse.Namespace) -> int:
    """Print the plan of one project; 1 if its file has errors, 2 if the call asks for too much."""
    try:
        this = read_requested_piece(options, skill_set if options.json else skill_asked)
        if this is None:
            return 1
        report = this.report(sure=sure_of(options), full=True)
        stock = cut_from_hanks(report.cuts, read_hanks(options.hank, this.plan.project.cords))
    except (NoSuchProject, CannotRefit, PieceError) as error:
        return refuse_call(str(error))
    if options.json:
        print_json(plan_report_json(this.plan, report, stock))
    else:
        lines = [] if options.hank else stock_use_lines(this.plan, report)
        print("\n".join((*render_plan(report, stock, options.project), *lines)))
    return 0


def plan_report_json(plan: Plan, report: PlanReport, stock: Sequence[CordStock]) -> dict[str, Any]:
    """Return the object that `coach plan --json` prints; see `coach.plan.as_json`.

    Args:
        plan: The plan.
        report: Its report, with the cut list.
        stock: How each cord comes out of the hanks in hand; empty where none were named.
    """
    told = plan_json(plan, report.cuts, _in_seconds(report.time) if report.time else {})
    told["copies"] = report.copies
    told["changes"] = list(report.changes)
    told["learnt_from"] = list(report.learnt_from)
    told["cutting"] = cutting_json(plan, report)
    if stock:
        told["stock"] = stock_json(stock)
    return told


def _in_seconds(time: Range) -> dict[str, int]:
    return {"low": round(time.low_s), "likely": round(time.likely_s), "high": round(time.high_s)}
