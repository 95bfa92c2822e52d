"""`coach kit FILE -o kit.html`: cut list for all, sheets of labels, the card of the piece."""

import argparse
from pathlib import Path

from coach.card.card_page import render_card
from coach.cli.bench_setup import add_units, chosen_units
from coach.cli.file_output import add_output, refuse_call, write_output
from coach.cli.orders.copies_asked import order_groups, requested_groups
from coach.cli.orders.maker_desk import read_for_maker, today
from coach.cli.orders.order_options import add_order_options
from coach.cli.output import print_page
from coach.cli.project_finder import NoSuchProject, add_project
from coach.cli.skill_question import skill_set
from coach.orders.quote import quote_of
from coach.orders.sheets.cord_labels import PAPERS
from coach.orders.sheets.kit import kit
from coach.piece import PieceError
from coach.plan.resize.refit import CannotRefit
from coach.report.plan_report import report_of


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what it can be called with."""
    add_project(parser, also="the name of a piece")
    add_output(parser, "HTML")
    parser.add_argument(
        "--paper", choices=tuple(PAPERS), default="a4", help="what the labels are printed on"
    )
    add_order_options(parser)
    add_units(parser)


def run(options: argparse.Namespace) -> int:
    """Write a kit; 1 if the project has errors, 2 if the call or the target is wrong."""
    try:
        made = read_for_maker(options.project, skill_set)
        if made is None:
            return 1
        groups = order_groups(
            made.plan, options, requested_groups(options, made.plan), begun=made.begun
        )
        unit = chosen_units(options.units)
        quote = quote_of(groups, made.desk.stock, None, made.time_for, today(), unit=unit)
        plan = groups[0].plan
        card = render_card(plan, report_of(plan, unit=unit))
        text = kit(quote, card, options.paper, unit)
    except (NoSuchProject, CannotRefit, PieceError) as error:
        return refuse_call(str(error))
    if options.output == "-":
        print_page(text)
        return 0
    return write_output(Path(options.output), text, over=options.replace)
