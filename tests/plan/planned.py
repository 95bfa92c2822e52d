"""Short ways to write a project and to ask its plan who stands where."""

from collections import Counter
from collections.abc import Mapping, Sequence

from coach.plan.as_json import tie_counts
from coach.plan.from_text import read_plan
from coach.plan.plan_model import Count, Plan
from coach.plan.wording.sentences import step_sentence
from coach.yaml_reader.diagnostics import Problem

REED = "{colour: green, fibre: cotton, diameter: 2 mm}"
SINGLE = "{colour: green, fibre: cotton, diameter: 2 mm, fold: none}"

MIXED = {
    "reed": '{colour: "#5b7f3a", fibre: cotton, diameter: 2 mm}',
    "clay": "{colour: sienna, fibre: cotton, diameter: 2 mm}",
}
"""Two cords of two colours."""


def project(
    work: Sequence[str],
    start: str = "{nest: [2 reed]}",
    cords: Mapping[str, str] | None = None,
    parts: Mapping[str, Sequence[str]] | None = None,
    rest: str = "",
) -> str:
    """Return the text of a project; steps, start and cords are written as flow mappings."""
    lines = ["coach: 1", "title: Tide", "cords:"]
    lines += [f"  {name}: {cord}" for name, cord in (cords or {"reed": REED, "clay": REED}).items()]
    lines += [f"start: {start}", "work:", *(f"  - {{{step}}}" for step in work)]
    if parts:
        lines.append("parts:")
        for name, steps in parts.items():
            lines += [f"  {name}:", *(f"    - {{{step}}}" for step in steps)]
    return "\n".join([*lines, rest, ""])


def planned(text: str) -> Plan:
    """Return the plan of a text without errors."""
    reading = read_plan(text)
    assert reading.plan, [(p.code, p.message) for p in reading.problems]
    return reading.plan


def faults(text: str) -> tuple[Problem, ...]:
    """Return the problems of a text that has errors, so no plan."""
    reading = read_plan(text)
    assert reading.plan is None
    return reading.problems


def fault(text: str) -> Problem:
    """Return the one problem of a text that has errors."""
    found = faults(text)
    assert len(found) == 1, [(p.code, p.message) for p in found]
    return found[0]


def singles(number: int) -> tuple[str, dict[str, str]]:
    """Return a start of single strands c1, c2 ... from the left, and their cords."""
    cords = {f"c{n}": SINGLE for n in range(1, number + 1)}
    return f"{{strands: [{', '.join(cords)}]}}", cords


def on_strands(
    number: int, *work: str, parts: Mapping[str, Sequence[str]] | None = None, closed: bool = False
) -> Plan:
    """Return the plan of some steps on single strands."""
    start, cords = singles(number)
    start = start[:-1] + ", round: yes}" if closed else start
    return planned(project(work, start, {**cords, "reed": REED, "clay": REED}, parts))


def names(plan: Plan, strands: Sequence[int]) -> list[str]:
    """Return the ids of strands."""
    return [plan.strands[strand].id for strand in strands]


def places(plan: Plan, order: Sequence[int]) -> list[int]:
    """Return an order by the places where its strands stood at the start, from 1."""
    return [plan.start.index(strand) + 1 for strand in order]


def finish(plan: Plan) -> list[int]:
    """Return the last order by places at the start."""
    return places(plan, plan.finish)


def tied(plan: Plan, count: Count) -> tuple[str, list[int], list[int]]:
    """Return the knot of a count, its knotters and its fillers, by places at the start."""
    return count.knot, places(plan, count.knotters), places(plan, count.fillers)


def ties(plan: Plan) -> list[tuple[str, list[int], list[int]]]:
    """Return all counts so."""
    return [tied(plan, count) for count in plan.counts]


def passes(plan: Plan) -> int:
    """Return the turns of the hand in all ties."""
    return sum(count.passes for count in plan.counts if count.knot)


def knots(plan: Plan) -> Counter[str]:
    """Return how many of each knot are tied."""
    return Counter(tie_counts(plan))


def said(*steps: str, mirror: bool = False) -> list[str]:
    """Return the sentence of each count on reed, clay, clay, reed, at 1 to 4."""
    part = {"m": list(steps)}
    plan = planned(
        project(
            [f"use: m, mirror: {'all' if mirror else 'none'}"], "{nest: [reed, clay]}", MIXED, part
        )
    )
    return [step_sentence(plan, done) for done in range(plan.total)]
