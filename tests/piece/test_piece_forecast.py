"""The time that is left, from the ties and from steps that say their time themselves."""

from collections import Counter

import pytest

from coach.pace.estimate import Paces, Range, time_for
from coach.piece.reports.forecast import Forecast, stated_s
from coach.plan.from_text import read_plan
from coach.plan.plan_model import Plan

TEXT = """coach: 1
title: Ebb
kind: other
cords: {reed: {colour: green, diameter: 2 mm, pieces: 2, tail: 6 cm}}
start: {nest: [2 reed]}
work:
  - wait: 10 min
  - {knot: square knot, strands: 1-4, times: 4, takes: 8-12 min}
  - {knot: half knot, strands: 1-4, times: 3}
  - {use: rest, times: 3}
parts:
  rest:
    - {braid: [1, 2, 3-4], crossings: 7}
    - {row: clove hitch, holder: 1, across: 2-4}
    - wait: 1 min
"""


def plan_of(text: str) -> Plan:
    reading = read_plan(text)
    assert reading.plan, reading.problems
    return reading.plan


def told(plan: Plan, first: int, end: int) -> Range:
    """Return the time between two counts, every step looked at anew."""
    ties: Counter[str] = Counter()
    stated = []
    for step in plan.steps:
        own = range(max(step.first, first), min(step.end, end))
        says = stated_s(plan, step)
        if says is None:
            ties.update(plan.counts[count].knot for count in own)
        elif own:
            share = len(own) / step.counts
            stated.append((says[0] * share, says[1] * share))
    return time_for(Paces(), ties, stated)


def test_time_between_any_two_counts_is_that_of_what_lies_between_them() -> None:
    """Steps begun have their share, at both ends."""
    plan = plan_of(TEXT)
    forecast = Forecast(plan)
    for first in range(plan.total + 1):
        for end in range(first, plan.total + 1):
            found, wanted = forecast.left(Paces(), first, end), told(plan, first, end)
            assert found.low_s == pytest.approx(wanted.low_s, rel=1e-12)
            assert found.high_s == pytest.approx(wanted.high_s, rel=1e-12)
