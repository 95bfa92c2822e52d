"""Plans and cards that the tests of the card share."""

from functools import cache

from coach.card.card_page import page
from coach.cli.shelf import shelf
from coach.plan.from_text import read_plan
from coach.plan.plan_model import Plan
from coach.report.plan_report import report_of
from coach.yaml_reader.file_loader import load

NAMES = [path.stem for path in shelf()]


@cache
def plan_of(name: str) -> Plan:
    path = next(path for path in shelf() if path.stem == name)
    plan = read_plan(load(path).text or "").plan
    assert plan
    return plan


def planned(text: str) -> Plan:
    reading = read_plan(text)
    assert reading.plan, reading.problems
    return reading.plan


@cache
def card_of(name: str) -> str:
    plan = plan_of(name)
    return page(plan, report_of(plan))
