"""`coach card FILE -o card.html`: two sheets to print, for the maker or for who buys the piece."""

import argparse
from pathlib import Path

from coach.card.card_page import render_card, shop_page
from coach.cli.file_output import add_output, refuse_call, write_output
from coach.cli.options.piece_options import RequestedPiece, add_piece_options, read_requested_piece
from coach.cli.output import print_page
from coach.cli.project_finder import NoSuchProject
from coach.cli.skill_question import skill_set
from coach.picture.compose import scene_of
from coach.picture.render.shades import looks_of
from coach.picture.render.svg_drawing import render_svg
from coach.piece import PieceError
from coach.plan.plan_model import Plan
from coach.plan.resize.refit import CannotRefit


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what it can be called with."""
    add_piece_options(parser)
    form = parser.add_mutually_exclusive_group()
    form.add_argument("--svg", action="store_true", help="the drawing at scale alone")
    form.add_argument("--knots", action="store_true", help="with how each knot is tied")
    form.add_argument("--shop", action="store_true",
                      help="for a customer: picture, size, cords, cautions")  # fmt: skip
    add_output(parser, "PAGE")


def run(options: argparse.Namespace) -> int:
    """Write the card; 1 if the file has errors, 2 if the call or the target is wrong."""
    try:
        this = read_requested_piece(options, skill_set)
    except (NoSuchProject, CannotRefit, PieceError) as error:
        return refuse_call(str(error))
    if this is None:
        return 1
    text = _card(this, options)
    if options.output == "-":
        print_page(text)
        return 0
    return write_output(Path(options.output), text, over=options.replace)


def _card(this: RequestedPiece, options: argparse.Namespace) -> str:
    if options.svg:
        return _drawing(this.plan, this.unit)
    if options.shop:
        return shop_page(this.plan, this.report())
    return render_card(this.plan, this.report(), knots=options.knots)


def _drawing(plan: Plan, unit: str) -> str:
    return render_svg(scene_of(plan), looks_of(plan.project), plan.project.title, unit=unit) + "\n"
