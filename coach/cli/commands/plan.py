"""`coach plan FILE`: what to cut, how many knots, how large, how long; for people or programs."""

import argparse
import sys
from typing import Any

from coach.cli.hanks import read_hanks, stock_json, stocked
from coach.cli.missing import NoSuchProject
from coach.cli.output import print_json
from coach.cli.reports.cutting_section import cutting_json
from coach.cli.reports.plan_page import page
from coach.cli.reports.plan_sheet import Sheet
from coach.cli.shelf import find
from coach.cli.size_options import wished
from coach.cli.skill_question import skill_asked, skill_set
from coach.cli.sureness import sure_of
from coach.cli.unit_choice import unit_of
from coach.pace.estimate import Range, beginning
from coach.piece.learning.swatches import offer
from coach.piece.reports.forecast import Forecast
from coach.plan.as_json import plan_json
from coach.plan.cord.cut_list import cut_list, with_repeats
from coach.plan.cord.outlook import fold_savings
from coach.plan.from_text import read_plan
from coach.plan.plan_model import Plan
from coach.plan.resize.aim import aimed
from coach.plan.resize.refit import CannotRefit
from coach.text import one_line
from coach.yaml_reader.file_loader import load
from coach.yaml_reader.render import as_lines


def run(options: argparse.Namespace) -> int:
    """Print the plan of one project; 1 if its file has errors, 2 if the call asks for too much."""
    try:
        plan = read_file(options.file)
        if plan is None:
            return 1
        sheet = sheet_of(plan, options, skill_set() if options.json else skill_asked())
    except (NoSuchProject, CannotRefit) as error:
        sys.stderr.write(f"coach: {error}\n")
        return 2
    if options.json:
        print_json(as_object(sheet))
    else:
        print("\n".join(page(sheet)))
    return 0


def sheet_of(plan: Plan, options: argparse.Namespace, skill: str) -> Sheet:
    """Return all that is to be told of a plan, changed as the options wish. Raises CannotRefit.

    `skill` is how used the maker's hands are to knotting, "" where nobody said.
    """
    if not 1 <= options.copies <= _MOST_COPIES:
        raise CannotRefit(f"--copies: from 1 to {_MOST_COPIES} can be cut at once.")
    wish = wished(plan, options)
    unit = unit_of(options.units)
    sure = sure_of(options.sure)
    cuts = with_repeats(cut_list(wish.plan, unit, options.copies, sure), wish.plan)
    hanks = read_hanks(options.hank, wish.plan.project.cords)
    stock = tuple(stocked(cuts, hanks))
    time = time_of(wish.plan, skill, plan)
    return Sheet(
        wish.plan, cuts, time, unit, options.copies, wish.changes, stock,
        options.file, sure, offer(wish.plan, cuts, unit, options.copies, sure),
        tuple(fold_savings(wish.plan, cuts, unit, sure)),
    )  # fmt: skip


_MOST_COPIES = 1000


def as_object(sheet: Sheet) -> dict[str, Any]:
    """Return the sheet for other programs; see `coach.plan.as_json`."""
    time = sheet.time
    whole = {"low": round(time.low_s), "likely": round(time.likely_s), "high": round(time.high_s)}
    told = plan_json(sheet.plan, sheet.cuts, whole)
    told["copies"] = sheet.copies
    told["changes"] = list(sheet.changes)
    told["cutting"] = cutting_json(sheet)
    if sheet.stock:
        told["stock"] = stock_json(sheet.stock)
    return told


def read_file(name: str) -> Plan | None:
    """Return the plan of a project by path or shelf name; its problems go to the error output.

    Raises NoSuchProject.
    """
    found = find(name)
    loaded = load(found.path)
    reading = read_plan(loaded.text) if loaded.text is not None else None
    problems = (*loaded.problems, *(reading.problems if reading else ()))
    lines = as_lines(one_line(str(found.path)), loaded.text or "", problems)
    if lines:
        sys.stderr.write("\n".join(lines) + "\n")
    return reading.plan if reading else None


def read_aimed(name: str) -> Plan | None:
    """Return the plan of a project as `read_file` does, with the repeats its wish asks for."""
    plan = read_file(name)
    found = aimed(plan) if plan else None
    return found.plan if found else plan


def time_of(plan: Plan, skill: str, base: Plan | None = None) -> Range:
    """Return how long the whole piece takes somebody of whom only her skill is known.

    `base` is the plan as the file has it, where `plan` was fitted: what the file says that the
    work takes is about that one.
    """
    return Forecast(plan).left(Forecast(base or plan).prior(beginning(skill)), 0)
