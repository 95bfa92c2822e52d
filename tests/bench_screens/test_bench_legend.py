"""The legend: every sign of a drawing stands in it, drawn as the board is drawn."""

import asyncio
from pathlib import Path

import pytest
from bench_pieces import Clock, knot, mixed_plan, on_bench, picture, plan_of, restless_plan, row
from rich.cells import cell_len

from coach.knots import names
from coach.tui.app import BenchApp
from coach.tui.drawing.cells import ASCII, UNICODE, Glyphs
from coach.tui.layout.styled_text import Inks
from coach.tui.pages.legend import in_group, knots_of, legend_lines, on_row, signs
from coach.tui.screens.page_screen import PageScreen
from coach.tui.screens.work_screen import WorkScreen
from coach.tui.theme.palette import DARK


@pytest.mark.parametrize("glyphs", [UNICODE, ASCII])
@pytest.mark.parametrize("width", [37, 76])
def test_the_legend_names_every_knot_of_the_piece(glyphs: Glyphs, width: int) -> None:
    for plan in (mixed_plan(), restless_plan()):
        inks = Inks(DARK, plain=glyphs is ASCII).of(plan)
        lines = [line.plain for line in legend_lines(plan, inks, glyphs, width)]
        assert all(cell_len(line) <= width for line in lines)
        beside = " ".join(" ".join(line[18:] for line in lines).split())
        for name in {count.knot for count in plan.counts if count.knot}:
            assert name in beside
        if glyphs is ASCII:
            assert all(line.isascii() for line in lines)


@pytest.mark.parametrize("name", names.KNOTS)
def test_every_knot_has_its_line_in_the_legend(name: str) -> None:
    """In a group, and on a row where it ties rows."""
    told = [in_group(UNICODE, name)] if name not in names.KNOTTER_ROWS else []
    told += [on_row(UNICODE, name, holds=True)] if name in names.HOLDER_ROWS else []
    told += [on_row(UNICODE, name, holds=False)] if name in names.KNOTTER_ROWS else []
    for entry in told:
        assert entry.words.startswith(name)
        cells = [cell for line in entry.lines for cell in line.values()]
        assert any(cell.part == "knot" for cell in cells)


def test_the_legend_holds_only_knots_of_the_piece() -> None:
    plan = plan_of(knot("square knot", (1, 2, 3)), row(1, (2, 3)), row(3, (2, 1)))
    told = [entry.words.split(":")[0] for entry in knots_of(plan, UNICODE)]
    assert told == ["square knot", "clove hitch onto the holder"]


def test_what_stands_in_the_legend_stands_in_the_drawing() -> None:
    """The characters of a knot's sample are those of the knot on the board."""
    plan = plan_of(knot("square knot", (1, 2, 3, 4)))
    (entry,) = knots_of(plan, UNICODE)
    sample = [tuple(cell.char for _, cell in sorted(line.items())) for line in entry.lines]
    board = [
        tuple(cell.char for cell in line if cell.part == "knot")
        for line in picture(plan, 1, 40, 12).rows
    ]
    kept = [line for line in board if line]
    assert [set(line) for line in kept] == [set(line) for line in sample]


@pytest.mark.parametrize("glyphs", [UNICODE, ASCII])
def test_the_signs_of_a_drawing_are_told(glyphs: Glyphs) -> None:
    chars = {cell.char for entry in signs(glyphs) for line in entry.lines for cell in line.values()}
    wanted = {glyphs.cord, glyphs.holding, glyphs.knotting, glyphs.pending, glyphs.slack}
    assert wanted | set(glyphs.more) <= chars


def test_one_key_opens_the_legend(tmp_path: Path) -> None:
    plan = mixed_plan()

    async def walk() -> None:
        opened = on_bench(tmp_path, plan, Clock())
        app = BenchApp(on_bench=opened, clock=Clock(), glyphs=UNICODE)
        async with app.run_test(size=(40, 12)) as pilot:
            await pilot.press("d")
            assert isinstance(app.screen, PageScreen)
            await pilot.press("d")
            assert isinstance(app.screen, WorkScreen)
            assert opened.sitting.state.done == 0

    asyncio.run(walk())
