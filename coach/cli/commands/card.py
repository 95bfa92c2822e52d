"""`coach card FILE -o card.html`: one page to print; `--svg` gives the schematic alone."""

import argparse
from pathlib import Path

from coach.card.card_page import page
from coach.card.schematic import schematic
from coach.cli.commands.plan import read_aimed, time_of
from coach.cli.missing import NoSuchProject
from coach.cli.output import print_page
from coach.cli.skill_question import skill_set
from coach.cli.written import refused, written
from coach.plan.cord.cut_list import cut_list
from coach.plan.plan_model import Plan
from coach.quantities import show_time


def run(options: argparse.Namespace) -> int:
    """Write the card; 1 if the file has errors, 2 if the call or the target is wrong."""
    try:
        plan = read_aimed(options.file)
    except NoSuchProject as error:
        return refused(str(error))
    if plan is None:
        return 1
    text = schematic(plan, alone=True) + "\n" if options.svg else _card(plan)
    if options.output == "-":
        print_page(text)
        return 0
    return written(Path(options.output), text, over=options.replace)


def _card(plan: Plan) -> str:
    time = time_of(plan, skill_set())
    span = f"{show_time(time.low_s)} to {show_time(time.high_s)}"
    return page(plan, cut_list(plan), f"about {show_time(time.likely_s)} of knotting ({span})")
