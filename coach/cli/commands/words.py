"""`coach words FILE`: the whole piece as numbered written instructions."""

import argparse

from coach.cli.project_files import read_aimed
from coach.cli.shelf import NoSuchProject, add_project
from coach.cli.written import refused
from coach.report.plan_report import report_of
from coach.words.sheet import as_words


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what it can be called with."""
    add_project(parser)
    parser.add_argument("--markdown", action="store_true", help="as Markdown, not plain text")


def run(options: argparse.Namespace) -> int:
    """Print the instructions; 1 if the file has errors, 2 if there is no such file."""
    try:
        plan = read_aimed(options.project)
    except NoSuchProject as error:
        return refused(str(error))
    if plan is None:
        return 1
    print("\n".join(as_words(plan, report_of(plan), marked=options.markdown)))
    return 0
