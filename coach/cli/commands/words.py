"""`coach words FILE`: the whole piece as numbered written instructions."""

import argparse

from coach.cli.file_output import refuse_call
from coach.cli.options.piece_options import add_piece_options, read_requested_piece
from coach.cli.project_finder import NoSuchProject
from coach.cli.skill_question import skill_set
from coach.piece import PieceError
from coach.plan.resize.refit import CannotRefit
from coach.words.sheet import as_words, spoken_words


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what it can be called with."""
    add_piece_options(parser)
    form = parser.add_mutually_exclusive_group()
    form.add_argument("--markdown", action="store_true", help="as Markdown, not plain text")
    form.add_argument("--speak", action="store_true", help="for reading aloud: numbers as words")


def run(options: argparse.Namespace) -> int:
    """Print the instructions; 1 if the file has errors, 2 if there is no such file."""
    try:
        this = read_requested_piece(options, skill_set)
    except (NoSuchProject, CannotRefit, PieceError) as error:
        return refuse_call(str(error))
    if this is None:
        return 1
    if options.speak:
        told = spoken_words(this.plan, this.report())
    else:
        told = as_words(this.plan, this.report(), marked=options.markdown)
    print("\n".join(told))
    return 0
