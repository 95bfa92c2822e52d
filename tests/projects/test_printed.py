"""Printed patterns as project files: thread counts and orders as in the book, words true to it."""

from pathlib import Path

import pytest
from read_back import Follower, lines_of

from coach.plan.as_json import tie_counts
from coach.plan.from_text import read_plan
from coach.plan.plan_model import Plan
from coach.report.plan_report import report_of
from coach.words.sheet import markdown
from coach.yaml_reader.file_loader import load

PRINTED = Path(__file__).parent / "printed"
"""T. de Dillmont, Encyclopedia of Needlework (c. 1886), ch. Macrame; figures named in the files."""


def plan_of(name: str) -> Plan:
    plan = read_plan(load(PRINTED / f"{name}.yaml").text or "").plan
    assert plan
    return plan


def order(plan: Plan) -> list[int]:
    """Return the last order by places at the start."""
    return [plan.start.index(strand) + 1 for strand in plan.finish]


def test_eight_pieces_give_nine_flat_knots_and_a_bar_over_seven_ends() -> None:
    """Pp. 359-360 fig. 553 (read, counts worked out)."""
    plan = plan_of("flat-knots-and-a-bar")
    assert len(plan.start) == 16
    assert tie_counts(plan) == {"square knot": 9, "clove hitch": 7}
    assert order(plan) == [2, 3, 4, 5, 6, 7, 8, 1, *range(9, 17)]
    untied = [place for place, strand in enumerate(plan.start, 1)
              if not plan.knotted[strand] + plan.filled[strand]]  # fmt: skip
    assert untied == [15, 16], "of the two ends free on each side, the bar takes those on the left"


def test_four_bars_of_four_to_seven_threads_are_twenty_two_knots() -> None:
    """Pp. 362-363 fig. 560 (read, sum worked out)."""
    plan = plan_of("four-growing-bars")
    assert len(plan.start) == 16
    assert [step.counts for step in plan.steps] == [4, 5, 6, 7]
    assert tie_counts(plan) == {"clove hitch": 22}


def test_a_mounting_of_eighteen_threads_reads_the_same_from_both_sides() -> None:
    """P. 373 fig. 580 (read)."""
    cords = [plan_of("threads-in-a-palindrome").strands[s].cord for s in range(18)]
    assert len(cords) == 18
    assert cords == cords[::-1]


@pytest.mark.parametrize("name", [path.stem for path in PRINTED.glob("*.yaml")])
def test_the_words_of_a_printed_pattern_tie_what_its_plan_ties(name: str) -> None:
    plan = plan_of(name)
    words = Follower(lines_of(markdown(plan, report_of(plan))), len(plan.start), closed=False)
    first = {strand: place for place, strand in enumerate(plan.start)}
    assert words.ties == [
        (c.knot, frozenset(first[s] for s in c.knotters), frozenset(first[s] for s in c.fillers))
        for c in plan.counts
    ]
