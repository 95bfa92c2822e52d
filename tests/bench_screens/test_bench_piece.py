"""The whole piece on one key: all of it, scrolling, and in colours that are tried there."""

import asyncio
from collections.abc import Mapping
from pathlib import Path

import pytest
from bench_pieces import Clock, on_bench
from test_bench_solid import EVERY, PROJECTS, shipped
from textual.pilot import Pilot

from coach.project.tried_colours import WrongColour
from coach.session.ports import Aids
from coach.tui.app import BenchApp
from coach.tui.drawing.board_picture import BoardDrawing
from coach.tui.drawing.cells import UNICODE, Glyphs
from coach.tui.screens.piece_screen import PieceScreen


@EVERY
@pytest.mark.parametrize("name", sorted(path.stem for path in PROJECTS.glob("*.yaml")))
def test_a_whole_piece_is_drawn_from_top_to_bottom(glyphs: Glyphs, name: str) -> None:
    """It begins with what it hangs on or was cut off from, and nothing is said to be above."""
    rows = BoardDrawing(shipped(name), glyphs).whole(100)
    text = ["".join(cell.char for cell in row) for row in rows]
    assert "more" not in "".join(text)
    assert {cell.part for cell in rows[0]} <= {"", "bar"}
    assert any(cell.part == "bar" for cell in rows[0])
    tied = {c.strand for row in rows for c in row if c.part == "knot"}
    knotters = {s for count in shipped(name).counts if count.knot for s in count.knotters}
    assert len(tied & knotters) >= 0.75 * len(knotters)
    assert len(rows) < 400


Saved = list[tuple[str, str, dict[str, str]]]


def walked(tmp_path: Path, saved: Saved, *keys: str, done: int = 0) -> tuple[str, set[str]]:
    """Press keys on the bench of the tide band; give the page's text and the colours in it."""

    def save(key: str, name: str, colours: Mapping[str, str]) -> str:
        if not colours:
            raise WrongColour("There is nothing to write.")
        saved.append((key, name, dict(colours)))
        return f"The colourway {name} is written."

    async def go(pilot: Pilot[int]) -> tuple[str, set[str]]:
        for key in keys:
            await pilot.press(key)
            await pilot.pause()
        page = pilot.app.screen
        assert isinstance(page, PieceScreen)
        lines = page._page(90)
        colours = {span.style.color.get_truecolor().hex for line in lines for span in line.spans
                   if not isinstance(span.style, str) and span.style.color}  # fmt: skip
        return "\n".join(line.plain for line in lines), colours

    async def run() -> tuple[str, set[str]]:
        plan, clock = shipped("tide-band"), Clock()
        opened = on_bench(tmp_path, plan, clock, done)
        aids = Aids(save_colours=save)
        app = BenchApp(on_bench=opened, clock=clock, aids=aids, glyphs=UNICODE)
        async with app.run_test(size=(100, 30)) as pilot:
            return await go(pilot)

    return asyncio.run(run())


def test_the_picture_follows_a_colour_that_is_tried_and_it_can_be_kept(tmp_path: Path) -> None:
    saved: Saved = []
    keys = ("f", "t", *"gold", "enter", "w", *"noon", "enter")
    said, seen = walked(tmp_path, saved, *keys)
    assert "#ffd700" in seen
    assert "The colourway noon is written." in said
    assert [(name, list(colours.values())) for _, name, colours in saved] == [("noon", ["#ffd700"])]


def test_a_colour_that_is_none_changes_nothing(
    tmp_path: Path,
) -> None:
    said, seen = walked(tmp_path, [], "f", "t", *"goldd", "enter", "escape")
    assert said.startswith(shipped("tide-band").project.title)
    assert "#ffd700" not in seen


def test_at_the_end_the_whole_piece_is_on_the_same_key(tmp_path: Path) -> None:
    total = shipped("tide-band").total
    said, _ = walked(tmp_path, [], "f", "tab", done=total)
    assert "The file has no colourways" in said
