"""A small project of rows and square knots, and pieces of it, for tests of what happens beside."""

from coach.piece.events import Happening, Joined, Measured, Reordered, Repeats
from coach.plan.from_text import read_plan
from coach.plan.plan_model import Plan, remeasured
from coach.plan.tension import Hands

TEXT = """coach: 1
title: Sluice band
kind: bracelet
cords:
  reed: {colour: "#5b7f3a", fibre: cotton, diameter: 2 mm, pieces: 2}
  clay: {colour: sienna, fibre: cotton, diameter: 2 mm, pieces: 2}
start: {hang: [2 reed, 2 clay], on: ring}
margin: 25 %
work:
  - use: ripple
    times: 6
  - knot: overhand knot
    strands: all
parts:
  ripple:
    - row: clove hitch
      holder: 1
      across: 2-8
    - row: clove hitch
      holder: 8
      across: 7-1
    - knot: square knot
      groups: 1-8 by 4
      times: 2
size: {length: 14 cm, vary: ripple, least: 2}
"""
A_RIPPLE = 18  # counts


def band(text: str = TEXT) -> Plan:
    plan = read_plan(text).plan
    assert plan
    return plan


def in_true_hands(plan: Plan, compression: float, slack: float = 0.0) -> Plan:
    """Return the plan as it really comes out in some maker's hands."""
    knots = {count.knot for count in plan.counts if count.knot}
    cords = list(plan.project.cords)
    return remeasured(
        plan,
        Hands(
            dict.fromkeys(cords, compression), {(c, k): slack for c in cords for k in sorted(knots)}
        ),
    )


def strand(plan: Plan, name: str) -> int:
    return [one.id for one in plan.strands].index(name)


def measured(done: int, length_mm: float, name: str = "", lying: str = "") -> Happening:
    return Measured(
        at_ms=0, tick_ms=0, sitting=0, at_done=done, total=0, strand=name, length_mm=length_mm,
        lying=lying,
    )  # fmt: skip


def joined(done: int, name: str, length_mm: float, overlap_mm: float = 0.0) -> Happening:
    return Joined(
        at_ms=0, tick_ms=0, sitting=0, at_done=done, total=0, strand=name, length_mm=length_mm,
        overlap_mm=overlap_mm,
    )  # fmt: skip


def repeats(times: int, call: int = 0, part: str = "ripple") -> Happening:
    return Repeats(
        at_ms=0, tick_ms=0, sitting=0, at_done=0, total=0, part=part, call=call, times=times
    )


def reordered(done: int, order: str) -> Happening:
    return Reordered(at_ms=0, tick_ms=0, sitting=0, at_done=done, total=0, order=order)
