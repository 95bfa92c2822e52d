"""Plans and cards that the tests of the card share."""

from functools import cache

from coach.card.card_page import render_card
from coach.cli.project_finder import shipped_projects
from coach.plan.from_text import read_plan
from coach.plan.plan_model import Plan
from coach.report.plan_report import report_of
from coach.yaml_reader.file_loader import load

NAMES = [path.stem for path in shipped_projects()]


@cache
def plan_of(name: str) -> Plan:
    path = next(path for path in shipped_projects() if path.stem == name)
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
    return render_card(plan, report_of(plan))


def contrast(one: str, other: str) -> float:
    """Return the contrast ratio of W3C, WCAG 2.2 (read): (L1 + 0.05) / (L2 + 0.05)."""
    lights = sorted((light(one), light(other)), reverse=True)
    return (lights[0] + 0.05) / (lights[1] + 0.05)


def light(colour: str) -> float:
    parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts]
    return sum(share * c for share, c in zip((0.2126, 0.7152, 0.0722), linear, strict=True))
