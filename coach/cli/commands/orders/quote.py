"""`coach quote FILE`: what an order takes and costs, and when it is ready."""

import argparse
from pathlib import Path

from coach.cli.bench_setup import add_units, chosen_units
from coach.cli.file_output import refuse_call, write_output
from coach.cli.options.maker_plan import add_untaught
from coach.cli.options.size_options import cords_wished
from coach.cli.orders.copies_asked import order_groups, requested_groups
from coach.cli.orders.maker_desk import MakerDesk, read_for_maker, today
from coach.cli.orders.order_options import add_order_options
from coach.cli.orders.previous_order import (
    previous_order,
    previous_order_json,
    previous_order_lines,
)
from coach.cli.orders.price_list import BadPrices, prices
from coach.cli.orders.quote_page import render_quote
from coach.cli.output import csv_table, print_json
from coach.cli.project_finder import NoSuchProject, add_project
from coach.cli.skill_question import skill_asked, skill_set
from coach.orders.prices import Prices
from coach.orders.quote import quote_of
from coach.orders.quote_data import COLUMNS, quote_json, quote_rows
from coach.orders.quote_model import Quote
from coach.orders.sheets.customer_sheet import sheet
from coach.piece import PieceError
from coach.plan.resize.refit import CannotRefit


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add the arguments: how many, in which colours and sizes."""
    add_project(parser, also="the name of a piece")
    form = parser.add_mutually_exclusive_group()
    form.add_argument("--json", action="store_true", help="as one JSON object")
    form.add_argument("--csv", action="store_true", help="as rows for your own books")
    parser.add_argument(
        "--sheet",
        metavar="HTML",
        default="",
        help="write the customer's sheet: picture, price, day",
    )
    parser.add_argument("--replace", action="store_true", help="write over a file that is there")
    add_order_options(parser)
    add_units(parser)
    add_untaught(parser)


def run(options: argparse.Namespace) -> int:
    """Print a quote; 1 if the project or the prices have errors, 2 if the call is wrong."""
    try:
        skill = skill_set if options.json or options.csv else skill_asked
        made = read_for_maker(
            options.project, skill, untaught=options.untaught, cords=cords_wished(options)
        )
        if made is None:
            return 1
        known = prices()
        quote = _quote(made, options, known)
    except BadPrices:
        return 1
    except (NoSuchProject, CannotRefit, PieceError) as error:
        return refuse_call(str(error))
    if options.sheet:
        text = sheet(quote, chosen_units(options.units))
        return write_output(Path(options.sheet), text, over=options.replace)
    last = previous_order(quote.title)
    if options.json:
        print_json({**quote_json(quote), "last": previous_order_json(last) if last else None})
    elif options.csv:
        print(csv_table(COLUMNS, quote_rows(quote)), end="")
    else:
        lines = previous_order_lines(last, known.hour if known else None) if last else ()
        print("\n".join((*render_quote(quote, chosen_units(options.units)), *lines)))
    return 0


def _quote(made: MakerDesk, options: argparse.Namespace, known: Prices | None) -> Quote:
    """Return the quote that is asked for. Raises CannotRefit."""
    groups = order_groups(
        made.plan, options, requested_groups(options, made.plan), begun=made.begun
    )
    unit = chosen_units(options.units)
    return quote_of(groups, made.desk.stock, known, made.time_for, today(), unit=unit)
