"""The printed instructions, followed by a second reader, tie exactly what the plan ties."""

import pytest
from read_back import APART, LONGEST, Follower, lines_of, own_knots

from coach.cli.project_finder import shipped_projects
from coach.plan.from_text import read_plan
from coach.plan.plan_model import Plan
from coach.report.plan_report import report_of
from coach.words.sheet import markdown
from coach.yaml_reader.file_loader import load

SHELF = {path.stem: path for path in shipped_projects()}


def plan_of(text: str) -> Plan:
    reading = read_plan(text)
    assert reading.plan, [(p.code, p.span.line, p.message) for p in reading.problems]
    return reading.plan


def tied_by_plan(plan: Plan) -> list[tuple[str, frozenset[int], frozenset[int]]]:
    """Return the ties of the work by where strands hung at the start; later ones are left out."""
    first = {strand: place for place, strand in enumerate(plan.start)}
    sections = plan.sections
    made = dict.fromkeys(s.section for s in plan.steps if sections and sections[s.section].name)
    for number, section in enumerate(made, start=1):
        order = plan.sections[section].order
        first |= {strand: APART * number + place for place, strand in enumerate(order)}
    return [
        (
            count.knot,
            frozenset(first[s] for s in count.knotters if s in first),
            frozenset(first[s] for s in count.fillers if s in first),
        )
        for step in plan.steps
        for count in plan.counts[step.first : step.end]
        if count.knot and not step.unfolded
    ]


def tied_by_words(plan: Plan) -> list[tuple[str, frozenset[int], frozenset[int]]]:
    sheet = markdown(plan, report_of(plan))
    follower = Follower(
        lines_of(sheet), len(plan.start), plan.project.start.closed, own_knots(sheet)
    )
    hung = set(range(len(plan.start)))

    def known(strands: frozenset[int]) -> frozenset[int]:
        return frozenset(s for s in strands if s in hung or s >= APART or s == LONGEST)

    return [(knot, known(one), known(other)) for knot, one, other in follower.ties]


@pytest.mark.parametrize("name", SHELF)
def test_the_words_of_each_project_tie_what_its_plan_ties(name: str) -> None:
    plan = plan_of(load(SHELF[name]).text or "")
    assert tied_by_words(plan) == tied_by_plan(plan)
