"""All that the coach does is found by a word of it; escape never leaves."""

from pathlib import Path

import pytest
from bench_pieces import Clock, mixed_plan, on_bench, plan_of, row
from test_bench_screens import Bench, run

from coach.piece import Sitting
from coach.session.keymap import ACTIONS, GROUPS, Keys
from coach.tui.app import BenchApp
from coach.tui.layout.key_footer import work_hints
from coach.tui.layout.styled_text import Inks
from coach.tui.pages.plan_pages import key_lines
from coach.tui.screens.actions_screen import ActionsScreen
from coach.tui.screens.work_screen import WorkScreen
from coach.tui.theme.palette import DARK
from coach.tui.widgets.keys_line import in_lines


def opened(folder: Path, done: int = 0) -> tuple[BenchApp, Clock, Sitting]:
    clock = Clock()
    on = on_bench(folder, plan_of(row(1, (2, 3, 4)), row(6, (5, 4))), clock, done)
    return BenchApp(on_bench=on, clock=clock), clock, on.sitting


@pytest.mark.parametrize(
    ("typed", "first"),
    [("measure", "measure"), ("cord joined", "otherwise"), ("cord left", "cords"), ("HELP", "help"),
     ("inches", "units"), ("", "count")],
)  # fmt: skip
def test_an_action_is_found_by_a_word_of_it(typed: str, first: str) -> None:
    found = Keys().found(typed)
    assert found[0].id == first
    assert Keys().found("zeppelin") == ()


@pytest.mark.parametrize("key", ["slash", "ctrl+p"])
def test_a_key_opens_all_actions_and_what_is_chosen_is_done(tmp_path: Path, key: str) -> None:
    app, clock, sitting = opened(tmp_path)

    async def drive(seen: Bench) -> None:
        await seen.press(key)
        assert isinstance(app.screen, ActionsScreen)
        listed = seen.text()
        assert "rest of step" in listed
        await seen.press("r", "e", "s", "t", "space", "s", "t", "e", "p")
        assert "rest of step" in seen.text()
        assert "measure" not in seen.text()
        assert sitting.state.done == 0, "what is typed counts nothing"
        await seen.press("enter")
        assert isinstance(app.screen, WorkScreen)
        assert sitting.state.done == 3

    run(app, clock, drive, (80, 24))


def test_escape_closes_the_actions_and_nothing_is_done(tmp_path: Path) -> None:
    app, clock, sitting = opened(tmp_path, 2)

    async def drive(seen: Bench) -> None:
        await seen.press("slash", "down", "escape")
        assert isinstance(app.screen, WorkScreen)
        await seen.press("slash", "z", "z", "enter")
        assert "Nothing here is called that." in seen.text()
        await seen.press("escape")
        assert sitting.state.done == 2

    run(app, clock, drive, (80, 24))


def test_escape_never_leaves_the_bench(tmp_path: Path) -> None:
    app, clock, _ = opened(tmp_path)

    async def drive(seen: Bench) -> None:
        for _ in range(3):
            await seen.press("escape")
        assert isinstance(app.screen, WorkScreen)
        assert app.is_running
        assert "q leaves" in seen.text()

    run(app, clock, drive, (80, 24))


@pytest.mark.parametrize("page", ["c", "l", "h", "d", "k", "b", "n", "g", "a", "m", "o", "slash"])
def test_escape_closes_whatever_is_open(tmp_path: Path, page: str) -> None:
    app, clock, _ = opened(tmp_path)

    async def drive(seen: Bench) -> None:
        await seen.press(page)
        assert not isinstance(app.screen, WorkScreen)
        await seen.press("escape")
        assert isinstance(app.screen, WorkScreen)

    run(app, clock, drive, (80, 24))


@pytest.mark.parametrize("key", ["q", "ctrl+q", "ctrl+c"])
def test_the_keys_that_leave_say_that_all_is_saved(
    tmp_path: Path, key: str, capsys: pytest.CaptureFixture[str]
) -> None:
    app, clock, sitting = opened(tmp_path, 2)

    async def drive(seen: Bench) -> None:
        await seen.press(key)

    run(app, clock, drive, (80, 24))
    app.parting.say(app.work)
    told = capsys.readouterr().err
    assert f"{sitting.name}: 2 of 5 made. Everything is saved." in told


def test_a_key_that_does_nothing_says_so_once(tmp_path: Path) -> None:
    app, clock, sitting = opened(tmp_path)

    async def drive(seen: Bench) -> None:
        await seen.press("z")
        assert "Z does nothing here. ? shows all keys." in seen.text()
        await seen.press("space")
        assert "does nothing" not in seen.text()
        clock.ms += 1000
        await seen.press("z")
        assert "does nothing" not in seen.text()
        await seen.press("w")
        assert "W does nothing here." in seen.text()
        assert sitting.state.done == 1

    run(app, clock, drive, (80, 24))


@pytest.mark.parametrize("width", [38, 78, 118])
def test_the_help_page_has_every_action_once_under_what_it_is_for(width: int) -> None:
    lines = [line.plain for line in key_lines(Keys(), Inks(DARK), width)]
    assert all(len(line) <= width for line in lines)
    whole = " ".join(" ".join(lines).split())
    assert [heading for _, heading in GROUPS] == [
        line for line in lines if line in {heading for _, heading in GROUPS}
    ]
    assert {action.group for action in ACTIONS} == {group for group, _ in GROUPS}
    for action in ACTIONS if width == 38 else ():
        assert whole.count(action.help) == 1
    assert "--plain" in whole


@pytest.mark.parametrize("width", [40, 80, 120, 200])
def test_the_footer_uses_the_width_that_it_has(width: int) -> None:
    (line,) = in_lines(work_hints(Keys(), any_key=False, finished=False), width, 1)
    columns = sum(hint.width + 2 for hint in line) - 2
    assert columns <= width
    longest = max(len(Keys().shown(a.id)) + len(a.short) + 3 for a in ACTIONS)
    assert columns > min(width - longest, 170)
    assert {hint.key for hint in line} >= {"space", "?"}


def test_a_finished_piece_offers_nothing_dead() -> None:
    hints = work_hints(Keys(), any_key=False, finished=True)
    told = [f"{hint.key} {hint.what}" for hint in hints]
    assert {"A make another", "Z put away", "q leave"} <= {*told}
    for dead in ("space made", "r rest of step", "p pause", "b cutting list", "k this knot"):
        assert dead not in told


def test_the_first_knot_of_each_kind_offers_to_show_how_it_is_tied(tmp_path: Path) -> None:
    plan, clock, seen_of = mixed_plan(), Clock(), set[str]()
    app = BenchApp(on_bench=on_bench(tmp_path, plan, clock), clock=clock)

    async def drive(seen: Bench) -> None:
        for done in range(plan.total):
            first = plan.counts[done].knot not in seen_of and plan.counts[done].knot != ""
            seen_of.add(plan.counts[done].knot)
            offered = "k shows how it is tied." in seen.text()
            assert offered == (first and done > 0), done
            clock.ms += 1000
            await seen.press("space")

    run(app, clock, drive, (80, 24))
