"""Every screen at sizes that no terminal should have, from a few columns to 500 by 200."""

from dataclasses import replace
from pathlib import Path

import pytest
from bench_pieces import Clock, mixed_plan, on_bench
from test_bench_everywhere import NAME, makers
from test_bench_screens import Bench, run

from coach.tui.app import BenchApp
from coach.tui.screens.work_screen import WorkScreen

SIZES = ((500, 200), (2, 30), (39, 11), (41, 13), (300, 5), (1, 1))


@pytest.mark.parametrize("size", SIZES)
def test_every_screen_fills_its_terminal_and_no_more(tmp_path: Path, size: tuple[int, int]) -> None:
    plan, clock = mixed_plan(), Clock()
    plan = replace(plan, project=replace(plan.project, title=NAME))
    app = BenchApp(on_bench=on_bench(tmp_path, plan, clock, 9), clock=clock)

    async def drive(seen: Bench) -> None:
        bench = app.screen
        assert isinstance(bench, WorkScreen)
        for name, make in makers(bench.work, bench.inks).items():
            screen = make()
            if screen:
                app.push_screen(screen)
            await seen.pilot.pause()
            strips = app.screen._compositor.render_strips()
            assert [strip.cell_length for strip in strips] == [size[0]] * size[1], name
            while app.screen is not bench:
                app.pop_screen()
                await seen.pilot.pause()

    run(app, clock, drive, size)
