"""`coach plan FILE`: what to cut, how many knots, how large and how long; for people or programs."""

import argparse
import json
import sys

from coach.pace.estimate import Range
from coach.piece.forecast import Forecast
from coach.plan.as_json import plan_json
from coach.plan.cuts import cut_list, with_repeats
from coach.plan.model import Plan
from coach.project.report import as_lines
from coach.project.source import load
from coach.reading import read_plan
from coach.text import one_line
from coach.verbs.plan_page import page
from coach.verbs.shelf import NoSuchProject, find


def run(options: argparse.Namespace) -> int:
    """Print the plan of one project; 1 if its file has errors, 2 if there is no such file."""
    try:
        plan = read_file(options.file)
    except NoSuchProject as error:
        sys.stderr.write(f"coach: {error}\n")
        return 2
    if plan is None:
        return 1
    cuts = with_repeats(cut_list(plan), plan)
    time = time_of(plan)
    if options.json:
        whole = {
            "low": round(time.low_s), "likely": round(time.likely_s), "high": round(time.high_s)
        }  # fmt: skip
        print(json.dumps(plan_json(plan, cuts, whole), indent=2, ensure_ascii=False))
    else:
        print("\n".join(page(plan, cuts, time)))
    return 0


def read_file(name: str) -> Plan | None:
    """Give the plan of a project by path or shelf name; its problems go to the error output.

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


def time_of(plan: Plan) -> Range:
    """Give how long the whole piece takes somebody whose paces are not known yet."""
    forecast = Forecast(plan)
    return forecast.left(forecast.prior(), 0)
