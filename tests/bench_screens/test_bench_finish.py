"""A finished piece tells what it took and what was learnt; another is made, or it is put away."""

from pathlib import Path

import pytest
from bench_pieces import Clock, mixed_plan
from test_bench_home import desk
from test_bench_screens import Bench, run

from coach.tui.app import BenchApp
from coach.tui.drawing.board_picture import BoardDrawing
from coach.tui.drawing.cells import ASCII, SOLID, UNICODE, Glyphs
from coach.tui.drawing.shrunk_picture import shrink_picture
from coach.tui.screens.home_screen import ListScreen
from coach.tui.screens.work_screen import WorkScreen


@pytest.mark.parametrize("size", [(40, 12), (80, 24), (120, 40), (200, 50)])
def test_the_finish_tells_hours_cord_over_and_what_was_learnt(
    tmp_path: Path, size: tuple[int, int]
) -> None:
    clock = Clock()
    made = desk(tmp_path, clock)
    opened = made.begin("reed-keyring")
    app = BenchApp(on_bench=opened, clock=clock)

    async def drive(seen: Bench) -> None:
        opened.sitting.count(20)
        assert app.work
        strand = app.work.order()[0]
        hung = app.work.otherwise().known.rests[strand].length_mm
        usual = hung - app.work.plan.used_mm(strand, 20)
        app.work.otherwise().rest(strand, f"{usual + 20:.0f} mm")
        opened.sitting.count(7)
        await seen.press("z")
        shown = seen.text()
        assert "Finished: all 27 made." in shown
        assert shown.count("Finished") == 1
        assert "more above" not in shown, "the whole piece is shown"
        assert "cord over" in shown
        assert "q leave" in shown
        if size[1] >= 24:
            assert "worked" in shown
            assert "what your measures have shown" in shown

    run(app, clock, drive, size)


@pytest.mark.parametrize("glyphs", [SOLID, UNICODE, ASCII])
@pytest.mark.parametrize("room", [(12, 9), (36, 20), (200, 200)])
def test_the_whole_of_it_is_squeezed_into_its_room(room: tuple[int, int], glyphs: Glyphs) -> None:
    """From the bar at its top to the ends of its cords, with every cord; labels are left out."""
    plan = mixed_plan()
    whole = BoardDrawing(plan, glyphs).whole(60)
    small = shrink_picture(whole, *room)
    assert len(small) <= room[1]
    assert {len(row) for row in small} == {len(small[0])}
    assert len(small[0]) <= room[0]
    assert any(cell.part == "bar" for cell in small[0])
    assert any(cell.part == "cord" for cell in small[-1])
    cells = [cell for row in small for cell in row if cell.char != " "]
    assert not {"number", "initial", "word"} & {cell.part for cell in cells}
    cords = {plan.strands[cell.strand].cord for cell in cells if cell.strand is not None}
    assert cords == {strand.cord for strand in plan.strands}


def test_nothing_is_squeezed_out_of_no_picture_or_into_no_room() -> None:
    assert shrink_picture([], 9, 9) == []
    assert shrink_picture(BoardDrawing(mixed_plan(), SOLID).whole(60), 0, 9) == []


def test_another_of_it_is_made_in_its_place(tmp_path: Path) -> None:
    clock = Clock()
    made = desk(tmp_path, clock)
    opened = made.begin("reed-keyring")
    opened.sitting.count(27)
    app = BenchApp(on_bench=opened, clock=clock)

    async def drive(seen: Bench) -> None:
        await seen.press("A")
        await seen.pilot.pause()
        assert isinstance(app.screen, WorkScreen)
        assert app.work
        assert app.work.sitting.name == "Reed keyring 2"
        assert app.work.done == 0
        await seen.press("space")
        assert app.work.done == 1
        assert len([s for s in app.screen_stack if isinstance(s, WorkScreen)]) == 1

    run(app, clock, drive, (80, 24))
    assert sorted(piece.done for piece in made.pieces()) == [1, 27]


def test_it_is_put_away_and_left(tmp_path: Path) -> None:
    clock = Clock()
    made = desk(tmp_path, clock)
    opened = made.begin("reed-keyring")
    opened.sitting.count(26)
    opened.sitting.leave()
    app = BenchApp(shelf=made, clock=clock)

    async def drive(seen: Bench) -> None:
        await seen.pilot.pause()
        await seen.press("enter", "space")
        await seen.press("Z")
        assert "not finished yet" in seen.text()
        clock.ms += 1000
        await seen.press("space", "Z")
        await seen.pilot.pause()
        assert isinstance(app.screen, ListScreen)
        assert "show 1 piece" in seen.text()
        assert len(made.away()) == 1

    run(app, clock, drive, (80, 24))
