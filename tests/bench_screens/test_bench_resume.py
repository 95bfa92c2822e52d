"""Coming back: what is told first, and the answers to it."""

import re
from dataclasses import replace
from pathlib import Path

import pytest
from bench_pieces import Clock, knot, mixed_plan, on_bench, plan_of, row
from rich.text import Text
from test_bench_screens import Bench, run

from coach.plan.plan_model import Plan
from coach.plan.wording.place_words import step_line
from coach.session.controller import BenchController
from coach.session.ports import OnBench
from coach.session.resume_summary import latest_steps, strands_by_role
from coach.session.view_model import View
from coach.tui.app import BenchApp
from coach.tui.screens.resume_screen import ResumeScreen


def come_back(folder: Path, plan: Plan, done: int) -> tuple[BenchApp, OnBench, Clock]:
    clock = Clock()
    opened = replace(on_bench(folder, plan, clock, done), left_ms=clock.ms - 3_600_000)
    return BenchApp(on_bench=opened, clock=clock), opened, clock


def test_the_steps_made_last_begin_with_the_one_at_hand() -> None:
    plan = plan_of(row(1, (2, 3)), row(6, (5, 4)), knot("square knot", (1, 2, 3, 4), times=3))
    assert latest_steps(plan, 5, 3) == (
        f"1 of 3: {step_line(plan, 2)}", step_line(plan, 1), step_line(plan, 0),
    )  # fmt: skip
    assert latest_steps(plan, 4, 3) == (step_line(plan, 1), step_line(plan, 0))
    assert latest_steps(plan, 5, 1) == (f"1 of 3: {step_line(plan, 2)}",)


def test_who_is_at_hand_is_told_by_where_they_hang_now() -> None:
    """In mid-row the holder stands where it has got to; half knots exchange their knotters."""
    plan = plan_of(row(1, range(2, 7)), knot("half knot", (1, 2, 3, 4), times=3))
    assert strands_by_role(plan, 2) == (("holder", "3 reed"), ("knotter", "4 clay"))
    before = strands_by_role(plan, 5)
    after = strands_by_role(plan, 6)
    assert [part for part, _ in before] == ["knotters", "fillers"]
    cords = [words.split()[1] for words in before[0][1].split(" and ")]
    assert [words.split()[1] for words in after[0][1].split(" and ")] == cords[::-1]
    assert strands_by_role(plan, plan.total) == ()


@pytest.mark.parametrize("size", [(40, 12), (80, 24), (120, 40)])
def test_it_tells_when_what_who_and_how_far(tmp_path: Path, size: tuple[int, int]) -> None:
    app, _, clock = come_back(tmp_path, plan_of(row(1, range(2, 7))), 2)

    async def drive(seen: Bench) -> None:
        text = seen.text()
        for told in ("ast ", "2 of 5: clove hitch", "holder 3 reed", "hang like this?",
                     "space yes", "backspace one fewer", "+ one more", "g go to"):  # fmt: skip
            assert told in text
        assert re.search(r"1 +2 +3 +4 +5 +6", text)
        assert max(map(len, text.splitlines())) <= size[0]

    run(app, clock, drive, size)


def test_the_question_is_asked_before_the_work_below_it_is_measured(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Cord and time left of a long piece take longer to find out than the question to show."""
    app, _, clock = come_back(tmp_path, plan_of(row(1, range(2, 7))), 2)
    order: list[str] = []
    view, lines = BenchController.view, ResumeScreen.lines

    def looked_at(work: BenchController) -> View:
        order.append("looked")
        return view(work)

    def asked(screen: ResumeScreen, width: int, height: int) -> list[Text]:
        order.append("asked")
        return lines(screen, width, height)

    monkeypatch.setattr(BenchController, "view", looked_at)
    monkeypatch.setattr(ResumeScreen, "lines", asked)

    async def drive(seen: Bench) -> None:
        assert "hang like this?" in seen.text()

    run(app, clock, drive)
    assert order[0] == "asked"


@pytest.mark.parametrize("key", ["space", "enter", "down"])
def test_one_key_confirms_and_counts_nothing(tmp_path: Path, key: str) -> None:
    """A leaned-on key that confirmed does not count either; the next press does."""
    app, opened, clock = come_back(tmp_path, mixed_plan(), 3)

    async def drive(seen: Bench) -> None:
        await seen.press(key)
        assert opened.sitting.state.done == 3
        assert "hang like this" not in seen.text()
        await seen.press(key, apart_ms=50)
        assert opened.sitting.state.done == 3
        await seen.press(key)
        assert opened.sitting.state.done == 4

    run(app, clock, drive)


def test_what_was_not_made_is_taken_back_and_what_was_not_counted_is_added(
    tmp_path: Path,
) -> None:
    plan = plan_of(row(1, range(2, 7)), knot("square knot", (1, 2, 3, 4), times=5))
    app, opened, clock = come_back(tmp_path, plan, 3)

    async def drive(seen: Bench) -> None:
        for key, done in (
            ("backspace", 2), ("plus", 3), ("plus", 4), ("r", 5), ("plus", 6), ("s", 5),
            ("s", 0), ("plus", 1),
        ):  # fmt: skip
            await seen.press(key)
            assert opened.sitting.state.done == done
            assert "space yes" in seen.text()
        await seen.press("space")
        assert "1 of 10" in seen.text()

    run(app, clock, drive)


def test_from_there_one_goes_to_a_repeat_and_step(tmp_path: Path) -> None:
    app, opened, clock = come_back(tmp_path, mixed_plan(), 3)

    async def drive(seen: Bench) -> None:
        await seen.press("g", "2", "g", "g")
        assert opened.sitting.state.done == 7  # the same step of the second repeat
        assert "space yes" in seen.text()

    run(app, clock, drive)


def test_leaving_there_leaves_the_piece(tmp_path: Path) -> None:
    app, opened, clock = come_back(tmp_path, mixed_plan(), 3)

    async def drive(seen: Bench) -> None:
        await seen.press("q")

    run(app, clock, drive)
    assert app.return_code == 0
    assert opened.sitting.state.done == 3
    assert opened.sitting.state.paused


def test_a_finished_piece_asks_nothing(tmp_path: Path) -> None:
    plan = plan_of(row(1, (2, 3)))
    app, _, clock = come_back(tmp_path, plan, 2)

    async def drive(seen: Bench) -> None:
        assert "Finished" in seen.text()

    run(app, clock, drive)


def test_the_clock_starts_with_the_first_count(tmp_path: Path) -> None:
    """However long the question stood there, of that time only a count's own is work."""
    app, opened, clock = come_back(tmp_path, plan_of(row(1, range(2, 7))), 2)

    async def drive(seen: Bench) -> None:
        await seen.press("space", apart_ms=600_000)
        assert opened.sitting.state.sitting_s == 0
        await seen.press("space", apart_ms=600_000)
        assert 0 < opened.sitting.state.sitting_s < 120

    run(app, clock, drive)


def test_the_question_fits_every_size(tmp_path: Path) -> None:
    app, _, clock = come_back(tmp_path, mixed_plan(), 8)

    async def drive(seen: Bench) -> None:
        for size in ((20, 6), (12, 3), (1, 1), (200, 50), (40, 12)):
            await seen.pilot.resize_terminal(*size)
            await seen.pilot.pause()
            assert max(map(len, seen.text().splitlines())) <= size[0]
            if size[0] >= 20:
                assert "space" in seen.text()

    run(app, clock, drive)
