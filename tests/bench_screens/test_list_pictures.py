"""The picture of what is marked on the list: drawn beside, in no key's way, and opened on a key."""

import threading
from pathlib import Path

import pytest
from bench_pieces import Clock
from test_bench_home import begun, desk
from test_bench_screens import Bench, run
from textual.widgets import Static

from coach.tui.app import BenchApp
from coach.tui.drawing.board_picture import BoardDrawing
from coach.tui.drawing.cells import SOLID, UNICODE
from coach.tui.drawing.shrunk_picture import shrink_picture
from coach.tui.screens import home_screen
from coach.tui.screens.piece_screen import PieceScreen


@pytest.fixture(autouse=True)
def _mark_rests_when_a_test_says_so(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let no mark rest by itself, however long a busy machine takes from key to key."""
    monkeypatch.setattr(home_screen, "_LOOKED_AT_S", 3600.0)


async def drawn(seen: Bench) -> None:
    """Let the mark rest where it is, and wait until that is told of and its picture drawn."""
    await seen.pilot.pause()
    assert isinstance(seen.app.screen, home_screen.ListScreen)
    seen.app.screen.tell()
    await seen.app.workers.wait_for_complete()
    await seen.pilot.pause()


def told(seen: Bench) -> list[str]:
    """Return the lines beside the list."""
    return str(seen.app.screen.query_one("#detail", Static).render()).split("\n")


def test_the_whole_of_a_project_is_seen_below_what_is_told_of_it(tmp_path: Path) -> None:
    clock = Clock()
    shelf = desk(tmp_path, clock)
    app = BenchApp(shelf=shelf, clock=clock, glyphs=UNICODE)

    async def drive(seen: Bench) -> None:
        await drawn(seen)
        lines = told(seen)
        blank = lines.index("", 5)
        pane = app.screen.query_one("#detail", Static).content_size
        whole = BoardDrawing(shelf.fitting("reed-keyring").plan, SOLID).whole(pane.width)
        small = shrink_picture(whole, pane.width, pane.height - blank - 1)
        shown = ["".join(cell.char for cell in row) for row in small]
        assert [line.strip() for line in lines[blank + 1 :]] == [line.strip() for line in shown]
        assert len(small) > 12

    run(app, clock, drive, (120, 40))


def test_a_piece_is_seen_as_it_hangs(tmp_path: Path) -> None:
    clock = Clock()
    shelf = begun(tmp_path, clock, reed_keyring=3)
    app = BenchApp(shelf=shelf, clock=clock, glyphs=UNICODE)

    async def drive(seen: Bench) -> None:
        await drawn(seen)
        lines = told(seen)
        board = BoardDrawing(shelf.standing(shelf.pieces()[0].id).plan, SOLID)
        width = app.screen.query_one("#detail", Static).content_size.width
        hanging = board.picture(3, width, len(lines) - lines.index("", 4) - 1)
        assert lines[-len(hanging.rows) :] == ["".join(c.char for c in r) for r in hanging.rows]

    run(app, clock, drive, (120, 40))


def test_no_key_waits_for_a_picture_and_none_is_drawn_of_what_is_passed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Each entry is drawn once, on another thread than that of the keys."""
    clock = Clock()
    on: list[bool] = []
    whole = BoardDrawing.whole

    def watched(self, width):  # noqa: ANN001, ANN202
        on.append(threading.current_thread() is threading.main_thread())
        return whole(self, width)

    monkeypatch.setattr(BoardDrawing, "whole", watched)
    app = BenchApp(shelf=desk(tmp_path, clock), clock=clock)

    async def drive(seen: Bench) -> None:
        await seen.press("down", "down", "down", "down", "up", "up", "up")
        await drawn(seen)
        await seen.press("up")
        await drawn(seen)
        await seen.press("down")
        await drawn(seen)
        assert on == [False, False], "two entries, each once"

    run(app, clock, drive, (120, 40))


def test_where_the_room_is_small_the_picture_is_left_out(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    clock = Clock()
    app = BenchApp(shelf=desk(tmp_path, clock), clock=clock)
    asked: list[int] = []
    monkeypatch.setattr(BoardDrawing, "whole", lambda _, width: asked.append(width) or ())

    async def drive(seen: Bench) -> None:
        await drawn(seen)
        assert "have ready" in seen.text()
        assert not asked

    run(app, clock, drive, (80, 20))


def test_the_whole_of_what_is_marked_is_opened_on_a_key(tmp_path: Path) -> None:
    """For a project and for a piece; while letters narrow the list the key is a letter."""
    clock = Clock()
    app = BenchApp(shelf=begun(tmp_path, clock, tide_band=3), clock=clock)

    async def drive(seen: Bench) -> None:
        for keys, title in (((), "Tide band"), (("down",), "Reed keyring")):
            await seen.press(*keys, "P")
            assert isinstance(app.screen, PieceScreen)
            assert title in seen.text()
            await seen.press("escape")
        await seen.press("o", "P")
        assert "Find: oP" in seen.text()

    run(app, clock, drive, (80, 24))
