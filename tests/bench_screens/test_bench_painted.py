"""What is kept from frame to frame is never out of date, and only what has changed is painted."""

import random
from dataclasses import replace
from pathlib import Path

import pytest
from bench_pieces import Clock, mixed_plan, on_bench, plan_of, restless_plan, row
from test_bench_screens import Bench, bench, run
from textual.geometry import Region

from coach.plan.plan_model import Plan
from coach.session.controller import Work
from coach.session.keymap import Keys
from coach.session.view_model import View
from coach.tui.drawing.cells import ASCII, UNICODE, Glyphs
from coach.tui.layout.strip_view import Shown
from coach.tui.layout.styled_text import Inks
from coach.tui.layout.work_layout import Face
from coach.tui.theme.palette import DARK

SIZES = ((120, 40), (80, 24), (40, 12), (100, 30), (20, 6), (80, 33))


def views(plan: Plan, folder: Path) -> list[tuple[View, View]]:
    """Return what there is to show at every count, first and in all, in no order."""
    clock = Clock()
    opened = on_bench(folder, plan, clock)
    work, found = Work(plan, opened.sitting, clock, Keys()), []
    for done in range(plan.total + 1):
        both = work.view(first=True), work.view()
        found.append(both)
        if done % 5 == 0:
            told = {"message": "Took one back.", "units": "in", "unspoken": "No voice here."}
            found.append((replace(both[0], **told), replace(both[1], **told)))
        clock.ms += 4000
        opened.sitting.count()
    random.Random(1).shuffle(found)  # noqa: S311 - an order, no secret
    return found


@pytest.mark.parametrize("make", [mixed_plan, restless_plan])
@pytest.mark.parametrize("glyphs", [UNICODE, ASCII])
def test_a_face_that_has_shown_much_shows_what_a_new_one_would(
    tmp_path: Path, make: type[Plan], glyphs: Glyphs
) -> None:
    """At all sizes in turn, whatever was shown before; the first lines are those of the whole."""
    plan = make()
    inks = Inks(DARK, plain=glyphs is ASCII).of(plan)
    face = Face(plan, inks, Keys(), glyphs)
    for number, (first, whole) in enumerate(views(plan, tmp_path)):
        for size in (SIZES[number % len(SIZES)], SIZES[0]):
            fresh = Face(plan, inks, Keys(), glyphs).lines(whole, *size)
            lines = face.first(first, *size)
            assert lines == fresh[: len(lines)]
            assert face.lines(whole, *size) == fresh
            assert {line.cell_length for line in fresh} == {size[0]}


def test_a_key_paints_the_lines_that_have_changed_and_time_alone_none(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The title and the line of keys stay as they are, and all while nobody does anything."""
    app, _, clock = bench(tmp_path, plan_of(row(1, range(2, 7)), row(6, range(5, 0, -1))), 2)
    painted: list[Region] = []
    refresh = Shown.refresh

    def noted(self: Shown, *regions: Region, **how: bool) -> Shown:
        painted.extend(regions or [self.size.region])
        return refresh(self, *regions, **how)

    async def drive(seen: Bench) -> None:
        await seen.press("space")
        before = seen.app.screen._compositor.render_strips()
        monkeypatch.setattr(Shown, "refresh", noted)
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
