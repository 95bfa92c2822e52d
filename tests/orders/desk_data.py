"""What the tests of the order desk share: a keyring of the marsh stall, and its prices."""

from collections.abc import Callable

from coach.cli.project_finder import find_project
from coach.orders.prices import Prices
from coach.orders.quote_model import Group
from coach.orders.read_prices import read_prices
from coach.pace.estimate import Range, initial_paces, time_for
from coach.pace.work_amount import WorkAmount
from coach.piece.reports.forecast import Forecast
from coach.plan.from_text import read_plan
from coach.plan.plan_model import Plan

PRICES = """currency: €
hour: 14
cords: {reed: 0.35 per m, clay: 7 per 50 m, cotton 2 mm: 9 per hank of 40 m}
findings: {25 mm split ring: 0.20, 8 mm wooden bead: 0.10}
extras: {tag: 0.15}
overhead: 10 %
margin: 30 %
rounding: 0.50 up
hours: {mon: 1 h, wed: 1 h, sat: 3 h}
days off: [2031-05-05]
"""
THREE_WAYS = (("dusk", 4), ("foam", 4), ("silt", 4))


def keyring() -> Plan:
    plan = read_plan(find_project("reed-keyring").path.read_text(encoding="utf-8")).plan
    assert plan
    return plan


def prices(text: str = PRICES) -> Prices:
    reading = read_prices(text)
    assert not reading.problems
    return reading.prices


def group(copies: int, colourway: str = "") -> Group:
    plan = keyring()
    return Group(colourway, copies, plan, Forecast(plan).work(0, plan.total))


def practised() -> Callable[[WorkAmount], Range]:
    return lambda work: time_for(initial_paces("practised"), work)
