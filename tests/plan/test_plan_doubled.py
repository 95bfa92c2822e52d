"""A piece of cord twice as thick, all lengths in its file doubled, is the same one twice as large.

What has a size of its own is told apart: a pin of the board, which nobody writes a thickness of,
and the tail of a cord whose file names none.
"""

import re

import pytest
from planned import planned, project

from coach.cli.project_finder import shipped_projects
from coach.knots.mounts import PIN_MM
from coach.plan.plan_model import Plan
from coach.project.model import Turn
from coach.yaml_reader.file_loader import load

SHELF = {path.stem: path for path in shipped_projects()}
LENGTH = re.compile(r"(?<![\w.#-])(\d+(?:\.\d+)?)( (?:mm|cm|m|in)\b)")
TAIL_MM = 100.0
HALF_ROUND = 3.1416 / 2
CORDS = {
    "reed": "{colour: green, diameter: 2 mm, tail: 7 cm}",
    "clay": "{colour: sienna, diameter: 3 mm, fold: none, lead: 4 cm}",
}
KINDS = [
    "knot: gathering knot, wrap: reed, around: all, length: 2 cm",
    "knot: square knot, strands: 1-4, with: reed",
    "row: clove hitch, holder: 1, across: 2-4, lie: slant, slope: 30°",
    "row: clove hitch, holder: 1, across: 2-4, lie: level",
    "row: clove hitch, holder: dowel, across: all, diameter: 9 mm",
    "braid: 1-3, length: 12 cm",
    "braid: 1-3, crossings: 7",
    "net: 1-4 by 2, of: half knot, rows: 3, gap: 8 mm",
    "space: 3 cm, strands: 1-2",
    "picot: 15 mm, strands: [1, 4]",
    "bead: 2-3, size: 8 mm",
    "knot: josephine knot, strands: 1-4, size: 3 cm",
    "knot: barrel knot, knotter: 3, around: 1-2, turns: 4",
    "knot: berry knot, strands: 1-4, of: 3",
    "turn: 4, around: 3",
    "turn: 4, around: pin",
    "fold back: 1-4, loop: 2 cm",
    "add: [2 clay], at: 2",
    "lay aside: 1, leave: 12 cm",
    "trim: all, leave: 20 cm",
]


def doubled(text: str) -> Plan:
    return planned(LENGTH.sub(lambda found: f"{float(found[1]) * 2:g}{found[2]}", text))


def turns_round_a_pin(plan: Plan, strand: int) -> int:
    return sum(
        isinstance(step.source, Turn) and step.source.around is None and step.groups[0][0] == strand
        for step in plan.steps
    )


def see_doubled(text: str) -> None:
    once, twice = planned(text), doubled(text)
    assert twice.total == once.total
    assert twice.length_mm == pytest.approx(2 * once.length_mm, rel=1e-6)
    assert twice.width_mm == pytest.approx(2 * once.width_mm, rel=1e-6)
    for strand, (one, two) in enumerate(zip(once.ledgers, twice.ledgers, strict=True)):
        fixed_mm = HALF_ROUND * PIN_MM * turns_round_a_pin(once, strand)
        assert two.total_mm + fixed_mm == pytest.approx(2 * one.total_mm, rel=1e-5)
        tail = (once.tail_mm[strand], twice.tail_mm[strand])
        assert tail == (TAIL_MM, TAIL_MM) or tail[1] == pytest.approx(2 * tail[0])


@pytest.mark.parametrize("name", SHELF)
def test_each_project_twice_as_large_takes_twice_the_cord(name: str) -> None:
    see_doubled(load(SHELF[name]).text or "")


@pytest.mark.parametrize("step", KINDS)
def test_each_kind_of_step_twice_as_large_takes_twice_the_cord(step: str) -> None:
    cords = CORDS if "clay" in step else {"reed": CORDS["reed"]}
    work = ["knot: square knot, strands: 1-4, times: 20", step]
    see_doubled(project(work, "{hang: [2 reed], on: ring}", cords))
