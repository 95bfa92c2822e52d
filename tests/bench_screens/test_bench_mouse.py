"""Taps count like keys, the footer does what it says, the wheel looks around."""

from pathlib import Path

import pytest
from bench_pieces import Clock, on_bench, plan_of, row
from test_bench_screens import Bench, run
from textual import events

from coach.piece import Sitting
from coach.tui.app import BenchApp
from coach.tui.screens.look_around_screen import LookScreen
from coach.tui.screens.page_screen import PageScreen
from coach.tui.screens.work_screen import WorkScreen

SIZE = (80, 24)


def opened(folder: Path, done: int = 0) -> tuple[BenchApp, Clock, Sitting]:
    clock = Clock()
    on = on_bench(folder, plan_of(row(1, (2, 3, 4)), row(6, (5, 4))), clock, done)
    return BenchApp(on_bench=on, clock=clock), clock, on.sitting


@pytest.mark.parametrize("place", [(5, 5), (40, 14), (79, 0)])
def test_a_tap_on_board_or_figures_counts_one(tmp_path: Path, place: tuple[int, int]) -> None:
    app, clock, sitting = opened(tmp_path)

    async def drive(seen: Bench) -> None:
        await seen.pilot.click(offset=place)
        await seen.pilot.pause()
        assert sitting.state.done == 1
        assert " 1 of 5" in seen.text()

    run(app, clock, drive, SIZE)


def test_a_tap_that_bounces_counts_once(tmp_path: Path) -> None:
    """Keys and taps have one guard: an elbow may meet both."""
    app, clock, sitting = opened(tmp_path)

    async def drive(seen: Bench) -> None:
        for apart_ms in (1000, 60, 60):
            clock.ms += apart_ms
            await seen.pilot.click(offset=(40, 14))
            await seen.pilot.pause()
        await seen.pilot.press("space")
        assert sitting.state.done == 1

    run(app, clock, drive, SIZE)


@pytest.mark.parametrize("size", [(40, 12), SIZE, (200, 50)])
def test_a_tap_on_the_footer_does_what_stands_there(tmp_path: Path, size: tuple[int, int]) -> None:
    app, clock, sitting = opened(tmp_path, 2)

    async def drive(seen: Bench) -> None:
        foot = seen.text().splitlines()[-1]
        await seen.pilot.click(offset=(foot.index("one back"), size[1] - 1))
        await seen.pilot.pause()
        assert sitting.state.done == 1
        await seen.pilot.click(offset=(foot.index("help"), size[1] - 1))
        await seen.pilot.pause()
        assert isinstance(app.screen, PageScreen)
        await seen.press("escape")
        await seen.pilot.click(offset=(foot.index("one back") - 11, size[1] - 1))
        assert sitting.state.done == 1, "between two of them nothing happens"

    run(app, clock, drive, size)


def test_the_wheel_looks_ahead_and_back_and_counts_nothing(tmp_path: Path) -> None:
    app, clock, sitting = opened(tmp_path, 1)

    def wheel(kind: type[events.MouseEvent]) -> events.MouseEvent:
        return kind(
            None, x=40, y=12, delta_x=0, delta_y=1, button=0, shift=False, meta=False, ctrl=False
        )

    async def drive(seen: Bench) -> None:
        app.post_message(wheel(events.MouseScrollDown))
        await seen.pilot.pause()
        assert isinstance(app.screen, LookScreen)
        assert app.screen._at == 3
        app.post_message(wheel(events.MouseScrollDown))
        await seen.pilot.pause()
        assert app.screen._at == 5
        app.post_message(wheel(events.MouseScrollUp))
        await seen.pilot.pause()
        assert app.screen._at == 3
        await seen.press("escape")
        assert isinstance(app.screen, WorkScreen)
        assert sitting.state.done == 1

    run(app, clock, drive, SIZE)


def test_a_finished_piece_counts_no_tap(tmp_path: Path) -> None:
    app, clock, sitting = opened(tmp_path, 5)

    async def drive(seen: Bench) -> None:
        await seen.pilot.click(offset=(40, 14))
        await seen.pilot.pause()
        assert "Nothing is left" not in seen.text()
        assert sitting.state.done == 5

    run(app, clock, drive, SIZE)


def test_the_mouse_is_given_back_for_copying_and_taken_again(tmp_path: Path) -> None:
    app, clock, _ = opened(tmp_path)
    asked: list[str] = []

    async def drive(seen: Bench) -> None:
        driver = app._driver
        assert driver
        for name in ("_enable_mouse_support", "_disable_mouse_support"):
            setattr(driver, name, lambda name=name: asked.append(name))
        await seen.press("M")
        assert "The terminal has the mouse, for copying." in seen.text()
        await seen.press("M")
        assert "Taps and the wheel work here." in seen.text()
        assert asked == ["_disable_mouse_support", "_enable_mouse_support"]

    run(app, clock, drive, SIZE)
