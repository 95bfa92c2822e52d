"""`coach card FILE -o card.html`: two sheets to print, for the maker or for who buys the piece."""

import argparse
from pathlib import Path

from coach.card.card_page import page, shop_page
from coach.cli.output import print_page
from coach.cli.project_files import read_aimed
from coach.cli.shelf import NoSuchProject, add_project
from coach.cli.skill_question import skill_set
from coach.cli.written import add_output, refused, written
from coach.picture.compose import scene_of
from coach.picture.render.shades import looks_of
from coach.picture.render.svg_drawing import svg
from coach.piece.reports.forecast import time_of
from coach.plan.plan_model import Plan
from coach.report.plan_report import PlanReport, report_of


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what it can be called with."""
    add_project(parser)
    form = parser.add_mutually_exclusive_group()
    form.add_argument("--svg", action="store_true", help="the drawing at scale alone")
    form.add_argument("--knots", action="store_true", help="with how each knot is tied")
    form.add_argument("--shop", action="store_true",
                      help="for somebody who buys it: picture, size, cords, cautions")  # fmt: skip
    add_output(parser, "PAGE")


def run(options: argparse.Namespace) -> int:
    """Write the card; 1 if the file has errors, 2 if the call or the target is wrong."""
    try:
        plan = read_aimed(options.project)
    except NoSuchProject as error:
        return refused(str(error))
    if plan is None:
        return 1
    text = _card(plan, options)
    if options.output == "-":
        print_page(text)
        return 0
    return written(Path(options.output), text, over=options.replace)


def _card(plan: Plan, options: argparse.Namespace) -> str:
    if options.svg:
        return _drawing(plan)
    report = _report(plan)
    return shop_page(plan, report) if options.shop else page(plan, report, knots=options.knots)


def _drawing(plan: Plan) -> str:
    return svg(scene_of(plan), looks_of(plan.project), plan.project.title) + "\n"


def _report(plan: Plan) -> PlanReport:
    return report_of(plan, time=time_of(plan, skill_set()))
