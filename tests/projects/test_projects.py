"""The eight projects: what they hold, walked on the bench to the end, fitted to other sizes."""

import os
import re
import subprocess
import sys
from itertools import groupby
from pathlib import Path

import pytest

from coach.cli.shelf import shelf
from coach.knots.names import KNOTS
from coach.pace.estimate import beginning
from coach.pace.skills import STATED_SKILLS
from coach.piece.reports.forecast import Forecast
from coach.plan.as_json import tie_counts
from coach.plan.from_text import read_plan, with_advice
from coach.plan.plan_model import Plan
from coach.plan.resize.refit import to_length
from coach.plan.wording.sentences import sentence
from coach.yaml_reader.file_loader import load

SHELF = {path.stem: path for path in shelf()}


def plan_of(name: str) -> Plan:
    reading = with_advice(read_plan(load(SHELF[name]).text or ""))
    assert reading.problems == ()
    assert reading.plan
    return reading.plan


def test_eight_projects_come_with_it() -> None:
    assert len(SHELF) == 8


@pytest.mark.parametrize("name", SHELF)
def test_each_has_its_makers_figures_and_says_that_they_are_demo_data(name: str) -> None:
    project = plan_of(name).project
    assert project.takes_s
    assert project.size
    assert project.size.length_mm
    assert "# Demo data" in (load(SHELF[name]).text or "")


@pytest.mark.parametrize("name", SHELF)
def test_each_is_about_as_long_and_takes_about_as_long_as_its_maker_says(name: str) -> None:
    plan = plan_of(name)
    assert plan.project.size
    assert plan.length_mm == pytest.approx(plan.project.size.length_mm, rel=0.15)
    assert plan.project.takes_s
    skill = STATED_SKILLS[plan.project.skill]
    told = Forecast(plan).left(beginning(skill), 0)
    assert plan.project.takes_s == pytest.approx((told.low_s, told.high_s), rel=0.2)


@pytest.mark.parametrize("name", SHELF)
def test_every_count_has_a_sentence_and_every_strand_hangs_at_each_step(name: str) -> None:
    plan = plan_of(name)
    assert all(sentence(plan, done) for done in range(plan.total + 1))
    for before, after in zip(plan.steps, plan.steps[1:], strict=False):
        if not before.unfolded:
            assert before.after == after.before


@pytest.mark.parametrize(
    "name", [name for name in SHELF if name not in ("strandline-sampler", "marsh-pot-hanger")]
)
def test_those_that_vary_reach_another_length(name: str) -> None:
    plan = plan_of(name)
    wished = plan.length_mm * 2
    got = to_length(plan.project, wished).plan.length_mm
    assert got == pytest.approx(wished, rel=0.15)


def test_the_sampler_teaches_every_knot_once() -> None:
    plan = plan_of("strandline-sampler")
    assert set(tie_counts(plan)) == set(KNOTS)
    taught = [plan.counts[step.first].knot for step in plan.steps if plan.counts[step.first].knot]
    assert len(taught) == len(set(taught))


def test_the_hanging_is_of_24_strands_with_diamonds_of_clove_hitches_and_a_net() -> None:
    plan = plan_of("shoreline-hanging")
    assert len(plan.start) >= 24
    assert tie_counts(plan)["clove hitch"] == 3 * 3 * (3 + 3 + 3 + 3 + 1)
    assert any(step.net_row for step in plan.steps)


@pytest.mark.parametrize("name", SHELF)
def test_each_is_walked_on_the_bench_row_by_row_to_the_end(name: str, tmp_path: Path) -> None:
    plan = plan_of(name)
    walk = subprocess.run(
        [sys.executable, "-m", "coach", "knot", name, "--plain"],
        input="rest\n" * len(plan.steps), capture_output=True, text=True, check=True,
        env={**os.environ, "COACH_HOME": str(tmp_path)},
    )  # fmt: skip
    assert f"Finished: all {plan.total:,} made" in walk.stdout
    said = re.findall(r"^1 of \d+\. (.*)$", walk.stdout, flags=re.MULTILINE)
    planned = [" ".join(sentence(plan, step.first).split()) for step in plan.steps]
    # What stays the same from one step to the next is not said again.
    assert said == [words for words, _ in groupby(planned)]
