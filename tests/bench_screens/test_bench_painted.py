"""What is kept from frame to frame is never out of date, and only what has changed is painted."""

import random
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from bench_pieces import Clock, mixed_plan, on_bench, plan_of, restless_plan, row
from test_bench_screens import Bench, bench, run
from textual._compositor import Compositor
from textual.geometry import Region

from coach.plan.plan_model import Plan
from coach.session.controller import BenchController
from coach.session.keymap import Keys
from coach.session.view_model import View
from coach.tui.drawing.board_picture import BoardDrawing
from coach.tui.drawing.cells import ASCII, UNICODE, Glyphs
from coach.tui.drawing.picture_window import Picture
from coach.tui.layout.styled_text import Inks
from coach.tui.layout.work_layout import WorkLayout
from coach.tui.screens.work_screen import WorkScreen
from coach.tui.theme.palette import DARK
from coach.tui.widgets.painted_lines import PaintedLines

SIZES = ((120, 40), (80, 24), (40, 12), (100, 30), (20, 6), (80, 33))


def views(plan: Plan, folder: Path) -> list[View]:
    """Return what there is to show at every count, in no order."""
    clock = Clock()
    opened = on_bench(folder, plan, clock)
    work, found = BenchController(plan, opened.sitting, clock, Keys()), []
    for done in range(plan.total + 1):
        found.append(work.view())
        if done % 5 == 0:
            told = {"message": "Took one back.", "units": "in", "unspoken": "No voice here."}
            found.append(replace(found[-1], **told))
        clock.ms += 4000
        opened.sitting.count()
    random.Random(1).shuffle(found)  # noqa: S311 - an order, no secret
    return found


@pytest.mark.parametrize("make", [mixed_plan, restless_plan])
@pytest.mark.parametrize("glyphs", [UNICODE, ASCII])
def test_a_face_that_has_shown_much_shows_what_a_new_one_would(
    tmp_path: Path, make: type[Plan], glyphs: Glyphs
) -> None:
    """At all sizes in turn, whatever was shown before, and drawn ahead."""
    plan = make()
    inks = Inks(DARK, plain=glyphs is ASCII).of(plan)
    face = WorkLayout(plan, inks, Keys(), glyphs)
    for number, view in enumerate(views(plan, tmp_path)):
        for size in (SIZES[number % len(SIZES)], SIZES[0]):
            fresh = WorkLayout(plan, inks, Keys(), glyphs).lines(view, *size)
            assert face.lines(view, *size) == fresh
            assert {line.cell_length for line in fresh} == {size[0]}
        if number % 4 == 0:
            face.draw_ahead(view.done + 1)


def test_a_key_paints_the_lines_that_have_changed_and_time_alone_none(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The title and the line of keys stay as they are, and all while nobody does anything."""
    app, _, clock = bench(tmp_path, plan_of(row(1, range(2, 7)), row(6, range(5, 0, -1))), 2)
    painted: list[Region] = []
    refresh = PaintedLines.refresh

    def noted(self: PaintedLines, *regions: Region, **how: bool) -> PaintedLines:
        painted.extend(regions or [self.size.region])
        return refresh(self, *regions, **how)

    async def drive(seen: Bench) -> None:
        await seen.press("space")
        before = seen.app.screen._compositor.render_strips()
        monkeypatch.setattr(PaintedLines, "refresh", noted)
        for _ in range(3):
            seen.app._follow()
            seen.app.screen._follow_time()
            await seen.pilot.pause()
        assert not painted
        await seen.press("space")
        after = seen.app.screen._compositor.render_strips()
        changed = {y for y, line in enumerate(after) if line != before[y]}
        assert {y for region in painted for y in region.line_range} == changed
        assert changed.isdisjoint({0, 39})

    run(app, clock, drive, (120, 40))


def test_a_key_is_shown_by_one_look_at_the_piece_and_one_frame(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The figure, the sentence and the board that belong to a key come to the screen together."""
    monkeypatch.setattr(WorkScreen, "_follow_time", lambda _: None)
    app, opened, clock = bench(tmp_path, plan_of(row(1, range(2, 7)), row(6, range(5, 0, -1))), 2)
    looks: list[int] = []
    frames: list[str] = []
    look, paint = BenchController.view, Compositor.render_update

    def looked(self: BenchController) -> View:
        looks.append(self.done)
        return look(self)

    def painted(self: Compositor, **how: Any) -> Any:
        frames.append("\n".join(strip.text for strip in self.render_strips()))
        return paint(self, **how)

    async def drive(seen: Bench) -> None:
        await seen.press("space")
        monkeypatch.setattr(BenchController, "view", looked)
        monkeypatch.setattr(Compositor, "render_update", painted)
        for made in range(4, 8):
            looks.clear()
            frames.clear()
            await seen.press("space")
            assert opened.sitting.state.done == made
            assert looks == [made]
            assert len(set(frames)) == 1
            assert f"{made} of {opened.plan.total}" in frames[0]
            assert frames[0] == "\n".join(
                strip.text for strip in seen.app.screen._compositor.render_strips()
            )

    run(app, clock, drive, (120, 40))


def test_the_board_after_one_more_count_is_drawn_before_its_key_comes(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The key then draws nothing of it, and shows it; any other key draws what it needs."""
    app, _, clock = bench(tmp_path, plan_of(row(1, range(2, 7)), row(6, range(5, 0, -1))), 2)
    drawn: list[int] = []
    draw = BoardDrawing.picture

    def noted(self: BoardDrawing, done: int, width: int, height: int) -> Picture:
        drawn.append(done)
        return draw(self, done, width, height)

    monkeypatch.setattr(BoardDrawing, "picture", noted)

    async def drive(seen: Bench) -> None:
        await seen.press("space")
        seen.app.screen._draw_ahead()
        assert 4 in drawn
        drawn.clear()
        await seen.press("space")
        assert 4 not in drawn
        strips = seen.app.screen._compositor.render_strips()
        fresh = WorkLayout(seen.app.screen.work.plan, seen.app.screen.inks, Keys())
        lines = fresh.lines(seen.app.screen._seen(), 120, 39)
        assert [strip.text for strip in strips[:39]] == [line.text for line in lines]

    run(app, clock, drive, (120, 40))
