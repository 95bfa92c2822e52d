"""`coach words FILE`: the whole piece as numbered written instructions."""

import argparse
import sys

from coach.cli.commands.plan import read_aimed
from coach.cli.missing import NoSuchProject
from coach.plan.cord.cut_list import cut_list
from coach.words.sheet import as_words


def run(options: argparse.Namespace) -> int:
    """Print the instructions; 1 if the file has errors, 2 if there is no such file."""
    try:
        plan = read_aimed(options.file)
    except NoSuchProject as error:
        sys.stderr.write(f"coach: {error}\n")
        return 2
    if plan is None:
        return 1
    print("\n".join(as_words(plan, cut_list(plan), marked=options.markdown)))
    return 0
