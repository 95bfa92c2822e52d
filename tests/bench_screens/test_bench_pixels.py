"""Images of the board: what terminals answer, tiles that stay, and cells below all of them."""

import asyncio
import re
import sys
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest
from bench_pieces import Clock, mixed_plan, on_bench, plan_of, restless_plan, row
from textual import events

from coach.picture.render.shades import looks_of
from coach.plan.from_text import read_plan
from coach.plan.plan_model import Plan
from coach.session.ports import Aids
from coach.settings.overrides import Kept
from coach.settings.settings import Settings
from coach.tui.app import BenchApp
from coach.tui.drawing.board_picture import BoardDrawing
from coach.tui.drawing.cells import SOLID
from coach.tui.input.terminal_driver import _Keys
from coach.tui.pixels.image_support import ImageSupport
from coach.tui.pixels.overlay import Overlay
from coach.tui.pixels.terminal_capabilities import (
    ASKED,
    NO_IMAGES,
    NOT_INSTALLED,
    Images,
    TerminalCapabilities,
)
from coach.tui.pixels.tile import BoardArea, PlacedTiles, Tile
from coach.tui.pixels.tile_drawer import TileDrawer
from coach.tui.pixels.tiles import TILE_LINES, BoardTiles
from coach.tui.screens import board_screen
from coach.tui.screens.work_screen import WorkScreen

ROOT = Path(__file__).parents[2]
ST = "\x1b\\"
SIXEL = "\x1b[6;20;10t\x1b[?64;1;2;4;6;9;15;18;21;22c"
PNG = f"\x1b_Gi=4107;OK{ST}\x1b[6;20;10t\x1b[?62;c"
NONE = "\x1b[6;20;10t\x1b[?64;1;2;6;22c"
NO_SIZE = "\x1b[?62;4c"
REFUSED = f"\x1b_Gi=4107;ENOTSUPPORTED:no{ST}\x1b[6;18;9t\x1b[?65;22c"
"""Replies as terminals send them (recorded from memory of xterm's and the protocol's pages)."""


def claims(
    replies: str, picture: str = "auto", environment: dict[str, str] | None = None
) -> TerminalCapabilities:
    """Return what a driver has heard that read these bytes; none of them may be a key."""
    found, keys = TerminalCapabilities(picture, environment or {}), list[events.Event]()  # type: ignore[arg-type]
    reader = _Keys(debug=False, hand_on=keys.append, heard=found.hear)
    for byte in replies.encode():
        reader.take(bytes([byte]))
    assert not [event for event in keys if isinstance(event, events.Key)]
    return found


@pytest.mark.parametrize(
    ("replies", "picture", "environment", "images"),
    [
        (SIXEL, "auto", {}, Images("sixel", (10, 20))),
        (PNG, "auto", {}, Images("kitty", (10, 20))),
        (PNG.replace("62;c", "62;4c"), "auto", {}, Images("kitty", (10, 20))),
        (NONE, "pixels", {}, None),
        (REFUSED, "pixels", {}, None),
        (SIXEL, "auto", {"TMUX": "t,1,0"}, None),
        (SIXEL, "pixels", {"TMUX": "t,1,0"}, Images("sixel", (10, 20))),
        (NO_SIZE, "auto", {}, None),
        (NO_SIZE, "pixels", {}, Images("sixel", (10, 20))),
        ("\x1b[6;0;9999t" + NO_SIZE, "auto", {}, None),
        (PNG.removesuffix("c"), "pixels", {}, None),
    ],
)
def test_only_what_a_terminal_surely_says_is_taken_for_images(
    replies: str, picture: str, environment: dict[str, str], images: Images | None
) -> None:
    """In doubt there are none, unless the maker wants them; no reply is a key."""
    assert claims(replies, picture, environment).images == images


def test_a_maker_is_told_once_in_a_plain_sentence_why_there_are_no_images() -> None:
    missing = ImageSupport("pixels", {}, installed=False)
    assert not missing.asks
    assert [missing.trouble(), missing.trouble()] == [NOT_INSTALLED, ""]
    without = ImageSupport("pixels", {}, installed=True)
    assert without.trouble() == ""
    for reply in ("\x1b[6;20;10t", "\x1b[?62;22c"):
        without.hear(reply)
    assert [without.trouble(), without.trouble()] == [NO_IMAGES, ""]
    for quiet in (
        ImageSupport("auto", {}, installed=False),
        ImageSupport("cells", {}, installed=True),
    ):
        assert not quiet.wanted
        assert quiet.trouble() == ""


def tiled(plan: Plan, columns: int = 90, lines: int = 24) -> tuple[BoardTiles, BoardArea]:
    colours = BoardTiles(plan, looks_of(plan.project), "#12181a", "#ffd98a")
    picture = BoardDrawing(plan, SOLID).picture(0, columns, lines)
    return colours, BoardArea(columns, lines - 3, picture.columns, picture.wide, (10, 20))


@pytest.mark.parametrize("make", [mixed_plan, restless_plan])
def test_tiles_fill_the_board_at_every_count_and_are_pictures_of_its_pixels(
    make: type[Plan],
) -> None:
    plan = make()
    tiles, room = tiled(plan)
    for done in range(0, plan.total + 1, 7):
        found = tiles.tiles(done, room)
        assert [t.line for t in found] == list(range(0, room.lines, TILE_LINES))
        assert sum(t.lines for t in found) == room.lines
        for tile in found:
            root = ET.fromstring(tile.svg)  # noqa: S314 - our own picture
            assert (root.get("width"), root.get("height")) == ("900", str(20 * tile.lines))


def by_height(found: list[Tile]) -> dict[tuple[float, float], str]:
    """Return tiles by the heights of the work, in mm, that they show from and to."""
    boxes = [ET.fromstring(tile.svg).get("viewBox", "").split() for tile in found]  # noqa: S314 - our own picture
    spans = [(float(top) / 100, (float(top) + float(high)) / 100) for _, top, _, high in boxes]
    return dict(zip(spans, (tile.svg for tile in found), strict=True))


def test_work_above_the_hands_is_the_same_tile_from_count_to_count() -> None:
    """So that what a key draws does not grow with what is made: each was drawn at the last count.

    Where the room has moved on with the hands, it is the same tile higher up.
    """
    plan = plan_of(*[row(1, (2, 3, 4, 5, 6)), row(6, (5, 4, 3, 2, 1))] * 12)
    tiles, room = tiled(plan, lines=40)
    before = by_height(tiles.tiles(60, room))
    above = moved = 0
    for done in range(61, 80):
        found = by_height(tiles.tiles(done, room))
        hands = plan.places.top_mm[done - 1] - 3 * max(plan.places.contact_mm)  # and a cord's edge
        for (top, low), svg in found.items():
            if low < hands and top >= min(before)[0]:
                assert before[top, low] == svg, (done, top)
                above += 1
        moved += min(found) != min(before)
        before = found
    assert above > 40
    assert moved


def test_strands_hang_down_to_their_numbers_and_a_light_is_behind_the_knotters() -> None:
    plan = plan_of(row(1, (2, 3, 4, 5, 6)))
    tiles, room = tiled(plan)
    last = ET.fromstring(tiles.tiles(2, room)[-1].svg)  # noqa: S314 - our own picture
    left, _, wide, _ = map(float, str(last.get("viewBox")).split())
    paths = [path.get("d", "") for path in last.iter("{http://www.w3.org/2000/svg}path")]
    ends = [float(found[-2]) for d in paths if len(found := re.findall(r"-?\d+", d)) > 3]
    ends += [float(found[1]) for d in paths if (found := re.fullmatch(r"M(-?\d+) -?\d+V-?\d+", d))]
    hung = [(x - left) / wide * 900 for x in ends]
    for column in room.at.values():
        assert min(abs(x - (column + room.wide / 2) * 10) for x in hung) < 2
    style = next(last.iter("{http://www.w3.org/2000/svg}style")).text or ""
    assert style.count("#ffd98a") == 5


class Terminal:
    """Takes what is written to a terminal."""

    def __init__(self) -> None:
        self.written: list[str] = []

    def __call__(self, sent: str) -> None:
        self.written.append(sent)


def lay(
    overlay: Overlay, tiles: list[str], way: str = "sixel", drawn: str = "\x1bP0q~\x1b\\"
) -> int:
    """Lay tiles of four lines below line 2, and return how many were drawn."""
    asked = []

    async def draw(svg: str, _: str) -> str:
        asked.append(svg)
        return drawn

    bands = tuple(Tile(4 * n, 4, svg) for n, svg in enumerate(tiles))
    images = Images(way, (10, 20))  # type: ignore[arg-type]
    asyncio.run(overlay.lay(PlacedTiles(bands, 1, 2, 78), images, draw, lambda: True))
    return len(asked)


def test_only_tiles_that_are_not_seen_are_sent_and_painted_cells_hide_them() -> None:
    terminal = Terminal()
    overlay = Overlay(terminal)
    assert lay(overlay, ["a", "b", "c"]) == 3
    assert terminal.written[1].startswith("\x1b7\x1b[7;2H\x1bP")
    assert terminal.written[1].endswith("\x1b8")
    assert lay(overlay, ["a", "b", "c"]) == 0
    assert lay(overlay, ["a", "x", "c"]) == 1
    overlay.painted([0, 1, 12])  # above, and on the last tile
    assert lay(overlay, ["a", "x", "c"]) == 1
    overlay.hide()
    assert lay(overlay, ["a", "x", "c"]) == 3
    assert lay(Overlay(terminal), ["a"], drawn="") == 1
    assert len(terminal.written) == 8  # what could not be drawn is not sent


def test_images_that_float_above_the_cells_are_taken_away_when_cells_are_painted() -> None:
    terminal = Terminal()
    overlay = Overlay(terminal)
    lay(overlay, ["a", "b"], way="kitty", drawn="A" * 9000)
    assert [part[:40].count("a=T,f=100") for part in terminal.written] == [1, 1]
    assert re.findall(r"m=(\d);", terminal.written[0]) == ["1", "1", "0"]
    overlay.painted([3])
    assert re.findall(r"a=d,d=I,i=(\d+)", terminal.written[-1]) == ["4202"]


def test_a_tile_is_drawn_once_by_another_process_and_one_that_cannot_be_is_left_out() -> None:
    echo = "import sys\nfor n, line in enumerate(sys.stdin): print(f'\"{n}\"', flush=True)"

    async def drawn(drawer: TileDrawer) -> list[str]:
        found = [await drawer(svg, "sixel") for svg in ("a", "b", "a")]
        await drawer.close()
        return found

    assert asyncio.run(drawn(TileDrawer((sys.executable, "-c", echo)))) == ["0", "1", "0"]
    assert asyncio.run(drawn(TileDrawer((sys.executable, "-c", "")))) == ["", "", ""]
    assert asyncio.run(drawn(TileDrawer(("/nowhere/at/all",)))) == ["", "", ""]


def test_cells_are_painted_first_and_stay_on_a_terminal_that_claims_images_and_shows_none(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What is sent beside them is a control string, which such a terminal drops."""
    monkeypatch.setattr(
        board_screen, "RESTED_S", 3600
    )  # nobody waits: the test says when hands rest
    plan, sent = mixed_plan(), Terminal()
    told: list[tuple[str, int]] = []

    async def draw(svg: str, way: str) -> str:
        del svg
        told.append((way, app.work.done if app.work else -1))
        return "\x1bP0;0;0q~\x1b\\"

    kept = Kept(Settings(picture="pixels"))
    app = BenchApp(on_bench=on_bench(tmp_path, plan, Clock()), clock=Clock(), aids=Aids(kept=kept))

    async def walk() -> None:
        async with app.run_test(size=(100, 40)) as pilot:
            app.showing = ImageSupport("pixels", {}, installed=True, draw=draw)
            app.write = sent  # type: ignore[method-assign]
            for reply in ("\x1b[6;20;10t", "\x1b[?62;4c"):
                app.hear(reply)
            screen = app.screen
            assert isinstance(screen, WorkScreen)
            await pilot.press("space")
            cells = [strip.text for strip in screen._sheet._lines]
            assert not sent.written  # the count is seen first
            screen._rested()
            assert screen._laying
            await screen._laying
            assert sent.written
            assert set(told) == {("sixel", 1)}
            assert [strip.text for strip in screen._sheet._lines] == cells
            assert any("█" in line for line in cells)
            before = len(sent.written)
            await pilot.press("l")  # another screen: none are laid over it
            screen._rested()
            await pilot.pause()
            assert len(sent.written) == before

    asyncio.run(walk())


def test_the_bench_says_that_the_extra_is_missing(tmp_path: Path) -> None:
    kept = Kept(Settings(picture="pixels"))
    app = BenchApp(
        on_bench=on_bench(tmp_path, mixed_plan(), Clock()), clock=Clock(), aids=Aids(kept=kept)
    )

    async def walk() -> None:
        async with app.run_test(size=(100, 40)):
            app.showing = ImageSupport("pixels", {}, installed=False)
            assert isinstance(app.screen, WorkScreen)
            app.screen._rested()
            assert "pip install 'bench-coach[pixels]'" in " ".join(
                strip.text for strip in app.screen._sheet._lines
            )

    asyncio.run(walk())


def test_what_is_asked_is_answered_at_the_end_by_every_terminal() -> None:
    """The last question is for the attributes, which none leaves unanswered."""
    assert ASKED.endswith("\x1b[c")


@pytest.mark.parametrize("name", ["reed-bed-coaster", "cockle-net-bag", "gull-feather-earrings"])
def test_plaits_laid_flat_and_work_on_several_boards_have_tiles_too(name: str) -> None:
    plan = read_plan((ROOT / "projects" / f"{name}.yaml").read_text(encoding="utf-8")).plan
    assert plan
    tiles, room = tiled(plan)
    for done in (0, plan.total // 2, plan.total):
        assert any("<use" in tile.svg for tile in tiles.tiles(done, room))
