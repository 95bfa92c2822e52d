"""Looking through the work: another place is shown, the count stays where it is."""

from pathlib import Path

import pytest
from bench_pieces import Clock, mixed_plan, on_bench, restless_plan
from test_bench_screens import Bench, bench, run

from coach.plan.wording.sentences import step_sentence
from coach.tui.app import BenchApp
from coach.tui.drawing.cells import ASCII


def said(text: str) -> str:
    return " ".join(text.split())


@pytest.mark.parametrize("plan", [mixed_plan(), restless_plan()])
def test_all_steps_are_looked_through_and_nothing_is_stored(tmp_path: Path, plan: object) -> None:
    app, opened, clock = bench(tmp_path, plan, 3)  # type: ignore[arg-type]  # the ids of a parameter are made from it
    plan = opened.plan
    first = plan.step_of(3).index

    async def drive(seen: Bench) -> None:
        before = opened.sitting.state
        await seen.press("a")
        for step in plan.steps[first + 1 :]:
            text = said(seen.text())
            assert said(step_sentence(plan, step.first))[:60] in text
            assert "The count stays where it is" in text
            await seen.press("space")
        assert "the end of the piece" in seen.text()
        await seen.press("space", "escape")
        assert opened.sitting.state == before
        assert f" {before.done} of " in seen.text()

    run(app, clock, drive, (120, 40))


def test_it_says_how_far_the_place_is_from_the_hands(tmp_path: Path) -> None:
    app, _, clock = bench(tmp_path, mixed_plan(), 1)

    async def drive(seen: Bench) -> None:
        await seen.press("a")
        for told in ("Looking ahead", "hands at 1 of", "1 tie further on"):
            assert told in seen.text()
        await seen.press("a", "a")
        assert "4 ties further on" in seen.text()
        await seen.press("backspace", "backspace", "backspace")
        assert "Looking back" in seen.text()
        assert "1 tie to unpick" in seen.text()
        await seen.press("home")
        assert "You are here." in seen.text()

    run(app, clock, drive)


def test_it_fits_every_size_and_plain_terminals(tmp_path: Path) -> None:
    plan = mixed_plan()
    clock = Clock()
    app = BenchApp(on_bench=on_bench(tmp_path, plan, clock, 5), clock=clock, glyphs=ASCII)

    async def drive(seen: Bench) -> None:
        await seen.press("a")
        for size in ((120, 40), (80, 24), (40, 12), (20, 6), (8, 3), (1, 1)):
            await seen.pilot.resize_terminal(*size)
            await seen.press("a")
            assert max(map(len, seen.text().splitlines())) <= size[0]
            assert seen.text().isascii()

    run(app, clock, drive)
