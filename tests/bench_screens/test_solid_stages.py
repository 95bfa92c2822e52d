"""The stages of knots in solid cords: over and under as the diagrams have it."""

from pathlib import Path

import pytest
from bench_pieces import Clock, knot, on_bench, plan_of
from test_bench_screens import Bench, run

from coach.knots import names
from coach.knots.diagram import Diagram
from coach.knots.explanation import Side, explain_knot
from coach.tui.app import BenchApp
from coach.tui.drawing.cells import BLANK, UNICODE, Cell, board_glyphs
from coach.tui.drawing.solid.solid_stages import ROLES, sample, solid
from coach.tui.layout.styled_text import Inks
from coach.tui.pages.knot_page import Pens, how_lines
from coach.tui.theme.colour_depth import Depth
from coach.tui.theme.palette import palette_for

STEP = 4  # columns a step of the grid

Rows = list[tuple[Cell, ...]]


def at_crossings(diagram: Diagram, rows: Rows) -> None:
    """Check that the cord over is whole at each crossing, and the other one has a gap beside it."""
    crossings = {meeting.at for met in diagram.meetings() for meeting in met}
    for cord in diagram.cords:
        for (x, y), _, out in cord.ways():
            if (x, y) not in crossings or diagram.made:
                continue
            own = {cell.strand for cell in rows[y][x * STEP : x * STEP + 2]}
            if (out[1] == 0) == ((x, y) in diagram.level_over):
                assert own == {ROLES.index(cord.role)}, (x, y)
            elif out[1] == 0:
                assert rows[y][x * STEP - 1] == BLANK == rows[y][x * STEP + 2], (x, y)


@pytest.mark.parametrize("side", ["left", "right"])
def test_what_lies_over_is_whole_and_what_lies_under_gives_way(side: Side) -> None:
    """In every stage of every knot that the coach knows."""
    for name in names.KNOTS:
        for stage in explain_knot(name, side).stages:
            at_crossings(stage.diagram, solid(stage.diagram))


def test_no_cord_is_lost_at_a_corner() -> None:
    """Every point of each cord that lies over or alone there is drawn in its role."""
    for name in names.KNOTS:
        for stage in explain_knot(name).stages:
            rows = solid(stage.diagram)
            for cord in stage.diagram.cords:
                for (x, y), into, out in cord.ways():
                    if into != out and not stage.diagram.made:
                        strands = {cell.strand for cell in rows[y][x * STEP : x * STEP + 2]}
                        assert ROLES.index(cord.role) in strands, (name, (x, y))


def test_the_three_kinds_of_cord_differ_without_their_colours() -> None:
    assert len({"".join(cell.char for cell in sample(role)) for role in ROLES}) == 3


def test_what_stood_at_the_stage_before_is_paler() -> None:
    before, after = (stage.diagram for stage in explain_knot(names.HALF_HITCH).stages)
    first = {cell.age for row in solid(before) for cell in row if cell != BLANK}
    then = {cell.age for row in solid(after, before) for cell in row if cell != BLANK}
    assert first == {0}
    assert then == {0, 2}


@pytest.mark.parametrize("depth", ["full", "256", "16", "none"])
def test_lines_are_left_to_terminals_without_colours_enough(depth: Depth) -> None:
    inks = Inks(palette_for("dark", depth))
    pens = Pens(inks, board_glyphs(UNICODE, shaded=inks.shaded))
    page = "".join(line.plain for line in how_lines(explain_knot(names.SQUARE), pens, 78))
    assert ("▒" in page) == (depth in ("full", "256"))
    assert ("━" in page) == (depth in ("16", "none"))


def test_the_bench_shows_the_knot_at_hand_in_solid_cords(tmp_path: Path) -> None:
    clock = Clock()
    opened = on_bench(tmp_path, plan_of(knot("square knot", (1, 2, 3, 4))), clock)
    app = BenchApp(on_bench=opened, clock=clock, glyphs=UNICODE)

    async def drive(seen: Bench) -> None:
        await seen.press("k")
        assert "▒" in seen.text()
        assert "━" not in seen.text()

    run(app, clock, drive, (80, 24))
