"""The name of a piece is seen before the piece is read, and what reading it comes to follows."""

from dataclasses import replace
from pathlib import Path

import pytest
from bench_pieces import Clock, on_bench, plan_of, row
from test_bench_screens import Bench, run

from coach.piece import Summary
from coach.session.ports import CannotOpen, OnBench, Opening
from coach.tui.app import BenchApp
from coach.tui.drawing.cells import UNICODE
from coach.tui.layout.styled_text import Inks
from coach.tui.screens.opening_screen import OpeningScreen
from coach.tui.theme.palette import DARK


def opening(folder: Path, clock: Clock) -> tuple[Opening, OnBench, list[str]]:
    """Return a piece that is about to be opened, and a list that tells when it was."""
    opened = on_bench(folder, plan_of(row(1, range(2, 7))), clock, 2)
    opened = replace(opened, left_ms=clock.ms - 3_600_000)
    piece = Summary(1, opened.sitting.name, "", "made", 2, opened.plan.total, 0, clock.ms)
    when: list[str] = []

    def now() -> OnBench:
        when.append("opened")
        return opened

    return Opening(piece, now), opened, when


@pytest.mark.parametrize("size", [(20, 6), (40, 12), (80, 24)])
def test_the_name_and_how_far_it_is_are_told_from_the_list_alone(size: tuple[int, int]) -> None:
    piece = Summary(1, "For the shop", "", "made", 2, 31, 0, 1_900_000_000_000)
    screen = OpeningScreen(piece, Inks(DARK), UNICODE, lambda: None)
    screen.set_timer = lambda *_: None  # type: ignore[assignment,method-assign,return-value]
    name, bar = (line.plain for line in screen.lines(*size))
    assert name.startswith("For the shop")
    assert bar.endswith("  2 of 31")
    assert len(bar) == size[0]


def test_the_bench_follows_and_its_keys_work(tmp_path: Path) -> None:
    """The question comes by itself; one key confirms, the next one counts, the last one leaves."""
    clock = Clock()
    ahead, opened, when = opening(tmp_path, clock)
    app = BenchApp(on_bench=ahead, clock=clock)

    async def drive(seen: Bench) -> None:
        while "hang like this?" not in seen.text():
            await seen.pilot.pause()
        assert when == ["opened"]
        await seen.press("space", "space")
        assert opened.sitting.state.done == 3
        await seen.press("q")

    run(app, clock, drive)
    assert app.return_code == 0


def test_a_piece_that_cannot_be_opened_ends_the_app_and_is_told_to_whoever_ran_it(
    tmp_path: Path,
) -> None:
    clock = Clock()
    ahead, _, _ = opening(tmp_path, clock)

    def refuse() -> OnBench:
        raise CannotOpen("It was counted differently.")

    app = BenchApp(on_bench=replace(ahead, open=refuse), clock=clock)

    async def drive(seen: Bench) -> None:
        while app._refused is None:
            await seen.pilot.pause()

    run(app, clock, drive)
    assert str(app._refused) == "It was counted differently."
