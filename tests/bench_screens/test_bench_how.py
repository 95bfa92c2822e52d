"""How a knot is tied, on the bench and on the command line: drawn right, said right, in reach."""

import asyncio
from pathlib import Path

import pytest
from bench_pieces import ABOUT, Clock, at, knot, on_bench, plan_of, row
from rich.cells import cell_len

from coach.cli.main import main
from coach.knots import names
from coach.knots.diagram import CordPath, Diagram
from coach.knots.explanation import explain_knot
from coach.plan.plan_model import Plan
from coach.project import model
from coach.tui.app import BenchApp
from coach.tui.drawing.cells import ASCII, UNICODE, Glyphs
from coach.tui.drawing.knot_stages import draw_stage
from coach.tui.layout.styled_text import Inks
from coach.tui.pages.knot_page import Pens, how_lines, tie_near
from coach.tui.screens.work_pages import HowScreen
from coach.tui.screens.work_screen import WorkScreen
from coach.tui.theme.palette import DARK

INKS = Inks(DARK)


def text_of(diagram: Diagram, glyphs: Glyphs = UNICODE) -> list[str]:
    return ["".join(cell.char for cell in row).rstrip() for row in draw_stage(diagram, glyphs)]


def crossed(*, level_over: bool) -> Diagram:
    over = frozenset({(2, 1)}) if level_over else frozenset()
    cords = (CordPath("filler", ((0, 1), (4, 1))), CordPath("knotter", ((2, 0), (2, 2))))
    return Diagram(cords, over)


def test_what_lies_over_is_drawn_whole_and_what_lies_under_keeps_a_gap() -> None:
    upright_over = ["      ┃", "═════ ┃ ═════", "      ┃"]
    level_over = ["      ┃", "═════════════", "      ┃"]
    assert text_of(crossed(level_over=False)) == upright_over
    assert text_of(crossed(level_over=True)) == level_over


def test_corners_join_the_runs_that_meet() -> None:
    ring = Diagram((CordPath("knotter", ((1, 0), (1, 1), (0, 1), (0, 3), (2, 3), (2, 2))),))
    assert text_of(ring) == ["   ┃", "┏━━┛", "┃     ┃", "┗━━━━━┛"]


def test_what_is_new_in_a_stage_is_marked() -> None:
    before, after = (stage.diagram for stage in explain_knot(names.HALF_HITCH).stages)
    assert not any(cell.fresh for line in draw_stage(before, UNICODE) for cell in line)
    fresh = {
        (x, y)
        for y, line in enumerate(draw_stage(after, UNICODE, before))
        for x, cell in enumerate(line)
        if cell.fresh
    }
    assert fresh
    assert max(x for x, _ in fresh) < 12


@pytest.mark.parametrize("knot_name", names.KNOTS)
@pytest.mark.parametrize("width", [37, 78])
def test_every_knot_is_told_and_drawn_within_the_width(knot_name: str, width: int) -> None:
    """All words, all stages, both sides, on the narrow and the usual screen, ASCII where wanted."""
    for glyphs in (UNICODE, ASCII):
        for side in ("left", "right"):
            told = explain_knot(knot_name, side)
            lines = [line.plain for line in how_lines(told, Pens(INKS, glyphs), width)]
            assert all(cell_len(line) <= width for line in lines)
            page = " ".join(" ".join(lines).split())
            assert told.knot in page
            for number in range(1, sum(len(stage.words) for stage in told.stages) + 1):
                assert f"{number}. " in page
            if glyphs is ASCII:
                assert page.isascii()


def test_each_kind_of_cord_has_a_line_of_its_own() -> None:
    """Knotters and fillers are told apart without colour."""
    for glyphs in (UNICODE, ASCII):
        shown = explain_knot(names.HALF_KNOT).stages[-1].diagram
        chars: dict[str, set[str]] = {}
        for line in draw_stage(shown, glyphs):
            for cell in line:
                if cell.role:
                    chars.setdefault(cell.role, set()).add(cell.char)
        assert len(chars) == 3
        assert not chars["knotter"] & chars["second knotter"] - {"#", "+"}
        assert not chars["knotter"] & chars["filler"]
        assert not chars["second knotter"] & chars["filler"]


def side_of(plan: Plan, done: int = 0) -> tuple[str, str]:
    found = tie_near(plan, done)
    assert found
    return found[0].knot, found[1]


def test_the_knot_at_hand_is_shown_begun_on_the_side_it_is_worked_from() -> None:
    around = model.AroundKnot(ABOUT, "lark's head", at(3), at(1, 2), 2)
    assert side_of(plan_of(row(1, (2, 3)))) == ("clove hitch", "left")
    assert side_of(plan_of(row(3, (2, 1)))) == ("clove hitch", "right")
    assert side_of(plan_of(around)) == ("lark's head", "right")
    assert side_of(plan_of(knot("reverse half knot", (1, 2, 3)))) == ("reverse half knot", "right")
    assert side_of(plan_of(model.Do(ABOUT, "Look."), row(1, (2,)))) == ("clove hitch", "left")
    assert tie_near(plan_of(model.Do(ABOUT, "Look.")), 0) is None


def test_one_key_opens_the_knot_at_hand_and_shows_its_other_side(tmp_path: Path) -> None:
    """The count stays where it is, and escape goes back to the work."""
    plan = plan_of(row(6, (5, 4, 3, 2, 1)), knot("square knot", (1, 2, 3, 4)))

    async def walk() -> None:
        opened = on_bench(tmp_path, plan, Clock())
        app = BenchApp(on_bench=opened, clock=Clock(), glyphs=UNICODE)
        async with app.run_test(size=(80, 24)) as pilot:
            await pilot.press("k")
            assert isinstance(app.screen, HowScreen)
            assert app.screen.shown == (plan.counts[0], "right")
            await pilot.press("k")
            assert app.screen.shown == (plan.counts[0], "left")
            await pilot.press("escape")
            assert isinstance(app.screen, WorkScreen)
            assert opened.sitting.state.done == 0

    asyncio.run(walk())


def test_the_command_line_tells_a_knot_by_any_of_its_names(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COLUMNS", "50")
    assert main(["how", "Double", "half-hitch", "--right"]) == 0
    told = capsys.readouterr().out
    assert told.startswith("clove hitch, begun on the right")
    assert "to the left of the first turn" in " ".join(told.split())
    assert main(["how", "flat knot", "--right"]) == 0
    assert capsys.readouterr().out.startswith("reverse square knot")


def test_a_name_that_is_no_knots_is_answered_with_a_near_one(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert main(["how", "squere knot"]) == 2
    assert "‘square knot’" in capsys.readouterr().err
    assert main(["how", "\x1b[2Jzzz"]) == 2
    told = capsys.readouterr().err
    assert "\x1b" not in told
    assert "coach how" in told


def test_without_a_name_all_knots_are_listed_with_their_other_names(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert main(["how"]) == 0
    told = capsys.readouterr().out
    for name in (*names.KNOTS, *names.SYNONYMS, *names.ROW_SYNONYMS):
        assert name in told
