"""The ten projects: what they hold, walked on the bench to the end, fitted to other sizes."""

import re
from collections.abc import Iterable
from dataclasses import replace
from itertools import groupby, pairwise
from typing import Any

import pytest
from command_line import coach

from coach.cli.project_finder import shipped_projects
from coach.knots.names import KNOTS
from coach.pace.estimate import initial_paces
from coach.pace.prior import STATED_SKILLS
from coach.piece.reports.forecast import Forecast
from coach.plan.as_json import tie_counts
from coach.plan.from_text import read_plan
from coach.plan.measure.ledger import Cordwork
from coach.plan.measure.measure import measured_work
from coach.plan.measure.strand_progress import StrandProgress
from coach.plan.plan_model import Plan
from coach.plan.resize.own_wish import refitted_to_own_wish
from coach.plan.resize.refit import to_length
from coach.plan.wording.advice import with_advice
from coach.plan.wording.sentences import step_sentence
from coach.project import model
from coach.yaml_reader.file_loader import load

SHELF = {path.stem: path for path in shipped_projects()}
TIE_MM = 2.6  # one clove hitch in waxed cotton of 1 mm: `knots/ties.py`


def plan_of(name: str) -> Plan:
    reading = with_advice(read_plan(load(SHELF[name]).text or ""))
    assert reading.problems == ()
    assert reading.plan
    return reading.plan


def test_ten_projects_come_with_it() -> None:
    assert len(SHELF) == 10


def boards_of(plan: Plan) -> list[Plan]:
    """Return the work on each board as a plan of its own."""
    return [own.plan for own in plan.by_section if own.plan.steps and own.plan.start] or [plan]


@pytest.mark.parametrize("name", SHELF)
def test_each_has_its_makers_figures_and_says_that_they_are_demo_data(name: str) -> None:
    project = plan_of(name).project
    assert project.takes_s
    assert project.size
    assert project.size.wish_mm
    assert project.size.length_mm is None, "nobody has measured an invented piece"
    assert "# Demo data" in (load(SHELF[name]).text or "")


@pytest.mark.parametrize("name", SHELF)
def test_each_is_about_as_long_and_takes_about_as_long_as_its_maker_says(name: str) -> None:
    plan = plan_of(name)
    assert plan.project.size
    assert plan.length_mm == pytest.approx(plan.project.size.wish_mm, rel=0.05)
    assert plan.project.takes_s
    skill = STATED_SKILLS[plan.project.skill]
    told = Forecast(plan).left(initial_paces(skill), 0)
    assert plan.project.takes_s == pytest.approx((told.low_s, told.high_s), rel=0.2)


@pytest.mark.parametrize("name", SHELF)
def test_each_is_written_with_the_repeats_that_its_wish_chooses(name: str) -> None:
    assert refitted_to_own_wish(plan_of(name)) is None


class Runs(Cordwork):
    """Books that keep how far each strand runs beside the work before it is tied again."""

    def __init__(self, *arguments: Any, **named: Any) -> None:
        super().__init__(*arguments, **named)
        self.runs: list[tuple[float, int, int]] = []

    def tie(
        self,
        count: int,
        strands: Iterable[StrandProgress],
        uses_mm: Iterable[float],
        line_mm: float,
        down_mm: float,
        *,
        free: bool = False,
    ) -> None:
        held = list(strands)
        for strand in held:
            if not free or strand.spot != strand.place:
                self.runs.append((line_mm - strand.down_mm, count, strand.number))
        super().tie(count, held, uses_mm, line_mm, down_mm, free=free)


@pytest.mark.parametrize("name", SHELF)
def test_no_strand_skips_more_than_six_times_its_own_thickness(name: str) -> None:
    """What a maker calls a neat back (common practice, no source); a bead's way is no skip."""
    plan = plan_of(name)
    books = [measured_work(board, Runs) for board in boards_of(plan)]
    bead_mm = sum(s.source.size_mm for s in plan.steps if isinstance(s.source, model.Bead))
    runs = [run for book in books if isinstance(book, Runs) for run in book.runs]
    assert runs
    for run, count, strand in runs:
        thick = plan.project.cords[plan.strands[strand].cord].diameter_mm
        told = f"{plan.strands[strand].id} skips {run:.1f} mm before count {count}"
        assert run - bead_mm <= 6 * thick, told


def test_the_tide_bands_waves_end_level_so_that_the_turn_is_closed() -> None:
    """At each turn all strands hang within one tie of each other: none has far to go on."""
    plan = plan_of("tide-band")
    tops = [step for step in plan.steps if [v.step for v in step.trail if v.name == "wave"] == [1]]
    assert len(tops) == 6
    for top in tops[1:]:
        so_far = replace(plan, steps=plan.steps[: top.index], counts=plan.counts[: top.first])
        book = measured_work(so_far)
        down = [book.hanging[strand].down_mm for strand in top.before]
        assert max(down) - min(down) < 2 * TIE_MM


@pytest.mark.parametrize("name", SHELF)
def test_every_count_has_a_sentence_and_every_strand_hangs_at_each_step(name: str) -> None:
    plan = plan_of(name)
    assert all(step_sentence(plan, done) for done in range(plan.total + 1))
    for board in boards_of(plan):
        for before, after in pairwise(board.steps):
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
def test_each_is_walked_on_the_bench_row_by_row_to_the_end(name: str) -> None:
    plan = plan_of(name)
    walk = coach("knot", name, "--plain", typed="rest\n" * len(plan.steps), check=True)
    assert f"Finished: all {plan.total:,} made" in walk.stdout
    said = re.findall(r"^1 of \d+\. (.*)$", walk.stdout, flags=re.MULTILINE)
    planned = [" ".join(step_sentence(plan, step.first).split()) for step in plan.steps]
    # What stays the same from one step to the next is not said again.
    assert said == [words for words, _ in groupby(planned)]
