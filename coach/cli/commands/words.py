"""`coach words FILE`: the whole piece as numbered written instructions."""

import argparse

from coach.cli.asked.this_piece import add_piece_options, read_this
from coach.cli.shelf import NoSuchProject
from coach.cli.skill_question import skill_set
from coach.cli.written import refused
from coach.piece import PieceError
from coach.plan.resize.refit import CannotRefit
from coach.words.sheet import as_words


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what it can be called with."""
    add_piece_options(parser)
    parser.add_argument("--markdown", action="store_true", help="as Markdown, not plain text")


def run(options: argparse.Namespace) -> int:
    """Print the instructions; 1 if the file has errors, 2 if there is no such file."""
    try:
        this = read_this(options, skill_set)
    except (NoSuchProject, CannotRefit, PieceError) as error:
        return refused(str(error))
    if this is None:
        return 1
    print("\n".join(as_words(this.plan, this.report(), marked=options.markdown)))
    return 0
