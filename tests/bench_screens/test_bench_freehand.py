"""Knotting without a pattern on the screen: hung, said, completed, drawn, written, left."""

from dataclasses import replace
from pathlib import Path

import pytest
from bench_pieces import Clock
from test_bench_home import desk
from test_bench_screens import Bench, run
from textual import events
from textual.widgets import Input

from coach.audio.speech import Voice
from coach.cli.workshop.freehand_files import FILES
from coach.plan.from_text import read_plan
from coach.recording.project_text import StartingCords
from coach.recording.record import Recording, new_recording
from coach.session.ports import Aids
from coach.tui.app import BenchApp
from coach.tui.screens.by_sentence.freehand_screen import FreehandScreen
from coach.tui.screens.by_sentence.hanging_screen import HangingScreen
from coach.tui.screens.home_screen import ListScreen
from coach.tui.screens.work_screen import WorkScreen

AIDS = Aids(files=FILES)


async def write(seen: Bench, *lines: str) -> None:
    """Write lines, each with enter after it."""
    for line in lines:
        seen.app.screen.query_one(Input).value = line
        await seen.press("enter")


def line(seen: Bench) -> str:
    return seen.app.screen.query_one(Input).value


def hung() -> Recording:
    return new_recording(
        StartingCords({"reed": "{diameter: 2 mm}", "clay": "{diameter: 2 mm}"}, "{hang: [3 reed]}")
    )


def test_from_the_list_a_piece_is_hung_knotted_written_and_come_back_to(tmp_path: Path) -> None:
    clock = Clock()
    app = BenchApp(shelf=desk(tmp_path, clock), clock=clock, aids=AIDS)
    target = tmp_path / "band.yaml"

    async def drive(seen: Bench) -> None:
        await seen.press(*"without pat")
        assert "> Start without a pattern" in seen.text()
        await seen.press("enter")
        assert isinstance(app.screen, HangingScreen)
        await write(seen, "2 reed, clay", "thick", "2 mm, green", "3 mm", "ring", "", "", "")
        assert isinstance(app.screen, FreehandScreen)
        assert "Nothing knotted yet." in seen.text()
        await write(seen, "row 1 to 6")
        assert "1 step, 5 ties, about " in seen.text()
        assert "5 clove hitches." in seen.text()
        await write(seen, "row 6 to 1", "row 1 to 7")
        assert "There is no position 7" in seen.text()
        assert line(seen) == "row 1 to 7"
        await seen.press("escape")
        assert line(seen) == ""
        await write(seen, "the last 2 steps, twice", "w", "Sea band", "wave", str(target))
        assert "is written." in " ".join(seen.text().split())
        assert seen.text().lstrip().startswith("Sea band")
        await seen.press("q", "enter")
        assert isinstance(app.screen, ListScreen)
        assert "> Sea band" not in seen.text()
        await seen.press(*"Knotted wi")
        assert "> Knotted without a p" in seen.text()
        await seen.press("enter")
        await seen.pilot.pause()
        assert isinstance(app.screen, FreehandScreen)
        shown = seen.text()
        assert "6 steps, 30 ties" in shown
        assert "Last worked on" in shown
        assert "the last 2 steps, twice" in shown

    run(app, clock, drive)
    plan = read_plan(target.read_text("utf-8")).plan
    assert plan
    assert (plan.total, list(plan.project.parts)) == (30, ["wave"])


def test_a_line_is_completed_found_by_a_word_and_helped_with(tmp_path: Path) -> None:
    clock = Clock()
    opened = desk(tmp_path, clock).begin_freehand(hung())
    app = BenchApp(on_bench=opened, clock=clock, aids=AIDS)

    async def drive(seen: Bench) -> None:
        await seen.press(*"half k")
        assert "half knots 1-4, 12 times" in seen.text()
        await seen.press("tab")
        assert line(seen) == "half knots 1-4, 12 times"
        await seen.press("escape", *"row", "down", "down", "enter")
        assert line(seen) == "row 6 to 1, slanting"
        await seen.press("ctrl+j")  # a line typed ahead
        assert "1 step, 5 ties" in seen.text()
        await seen.press("slash", *"plait", "enter")
        assert line(seen).startswith("plait 1-3")
        await seen.press("slash")
        assert line(seen).endswith("/")  # not on an empty line
        await seen.press("escape", "f1")
        assert "Knotting without a pattern" in seen.text()
        await seen.press("escape", "question_mark", "enter")
        assert "Knotting without a pattern" in seen.text()
        await seen.press("escape", "escape", "escape")
        assert isinstance(app.screen, FreehandScreen)
        await seen.press("ctrl+s")
        assert "What is the piece called?" in seen.text()
        await seen.press("escape")
        assert "Nothing is written" in seen.text()

    run(app, clock, drive)


def test_odd_input_changes_nothing_and_is_told(tmp_path: Path) -> None:
    """Lines of 200 letters, figures too large, strands that do not hang, a paste of 100 lines."""
    clock = Clock()
    opened = desk(tmp_path, clock).begin_freehand(hung())
    app = BenchApp(on_bench=opened, clock=clock, aids=AIDS)

    async def drive(seen: Bench) -> None:
        screen = app.screen
        assert isinstance(screen, FreehandScreen)
        for said in (
            "x" * 200, "row 1 to " + "9" * 100, "again", "unpick", "plait", "{[:", "🪢 1-4",
            "half knots 1-4, " + "9" * 60 + " times", "\x1b[2J", "row 0 to 3",
        ):  # fmt: skip
            await write(seen, said)
            assert screen.freehand.made == 0
            assert screen.query_one(Input).value
        await seen.press("escape")
        app.post_message(events.Paste("row 1 to 6\n" * 40 + "row 1 to 9\n" + "row 6 to 1\n" * 59))
        await seen.pilot.pause()
        await seen.pilot.pause()
        assert screen.freehand.made == 200
        assert "40 of 100 lines said; then: There is no position" in seen.text()
        assert line(seen) == "row 1 to 9"
        assert "Traceback" not in seen.text()

    run(app, clock, drive)


def test_a_pattern_is_left_on_the_bench(tmp_path: Path) -> None:
    clock = Clock()
    desk_here = desk(tmp_path, clock)
    opened = desk_here.begin("reed-keyring")
    opened.sitting.count(7)
    opened.sitting.leave()
    app = BenchApp(
        on_bench=replace(desk_here.open(opened.sitting.piece_id), left_ms=None), clock=clock,
        aids=AIDS,
    )  # fmt: skip

    async def drive(seen: Bench) -> None:
        await seen.press("K")
        assert "Go on without the pattern from here?" in seen.text()
        await seen.press("escape")
        assert isinstance(app.screen, WorkScreen)
        await seen.press("K", "enter")
        await seen.pilot.pause()
        assert isinstance(app.screen, FreehandScreen)
        assert app.screen.freehand.made == 7
        await write(seen, "overhand knot all")
        assert "1 step, 7 ties" in seen.text()  # and one count without a knot

    run(app, clock, drive)


@pytest.mark.parametrize("size", [(20, 6), (40, 12), (80, 24), (120, 40)])
def test_every_size_shows_the_board_and_the_line(tmp_path: Path, size: tuple[int, int]) -> None:
    clock = Clock()
    opened = desk(tmp_path, clock).begin_freehand(hung())
    app = BenchApp(on_bench=opened, clock=clock, aids=AIDS)

    async def drive(seen: Bench) -> None:
        await write(seen, "row 1 to 6", "row 1 to 9")
        rows = seen.text().splitlines()
        assert len(rows) == size[1]
        assert max(map(len, rows)) <= size[0]
        assert rows[-2 if size[1] >= 6 else -1].strip() == "row 1 to 9"  # above the keys
        if size[1] >= 12:
            assert any(row.split() == [str(n) for n in range(1, 7)] for row in rows)

    run(app, clock, drive, size)


class Heard(Voice):
    """Keeps what it is to say."""

    def __init__(self) -> None:
        super().__init__(None)
        self.said: list[str] = []

    def say(self, text: str) -> None:
        self.said.append(text)


def test_theme_taps_and_speech_are_there_without_a_pattern(tmp_path: Path) -> None:
    """A key changes the colours, a tap puts a sentence on the line, and what came of it is told."""
    clock, voice = Clock(), Heard()
    shelf = desk(tmp_path, clock)
    aids = replace(AIDS, voice=voice)
    app = BenchApp(on_bench=shelf.begin_freehand(hung()), clock=clock, aids=aids)

    async def drive(seen: Bench) -> None:
        await seen.press("ctrl+l")
        assert aids.kept.now.theme == "light"
        assert app.theme.startswith("coach-light")
        shown = seen.text().splitlines()
        row = max(n for n, text in enumerate(shown) if text.strip().startswith("row"))
        await seen.pilot.click(offset=(6, row))
        assert line(seen)
        assert line(seen) in shown[row]
        await write(seen, "row 1 to 6")
        assert voice.said == [], "nobody wants it spoken yet"
        await seen.press("ctrl+y")
        assert voice.said.pop().startswith("5 clove hitches.")
        await write(seen, "voice", "row 6 to 1", "row 1 to 7")
        assert voice.said[:2] == ["Each step is spoken.", "5 clove hitches."]
        assert voice.said[2].startswith("There is no position 7")
        await seen.press("escape", "slash", *"voice", "enter")
        assert not aids.kept.now.speech

    run(app, clock, drive, (80, 24))


def test_leaving_says_that_all_is_saved(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    clock = Clock()
    app = BenchApp(on_bench=desk(tmp_path, clock).begin_freehand(hung()), clock=clock, aids=AIDS)

    async def drive(seen: Bench) -> None:
        await write(seen, "row 1 to 6", "q")

    run(app, clock, drive, (80, 24))
    app.parting.say(app.work, app._opener.freehand)
    assert "5 made. Everything is saved." in capsys.readouterr().err
