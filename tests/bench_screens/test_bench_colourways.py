"""A colourway is chosen on a key, for one piece, and stays with it; plain lines have it too."""

from dataclasses import replace
from pathlib import Path
from types import MappingProxyType

from bench_pieces import Clock, on_bench, plan_of, row
from test_bench_screens import Bench, run

from coach.plain_ui.walk import PlainWalk
from coach.plan.plan_model import Plan
from coach.project import model
from coach.session.controller import BenchController
from coach.session.keymap import Keys
from coach.session.ports import Aids
from coach.session.quick_settings import Colourways
from coach.tui.app import BenchApp
from coach.tui.screens.look_around_screen import LookScreen
from coach.tui.screens.piece_screen import PieceScreen
from coach.tui.screens.work_screen import WorkScreen

DUSK = MappingProxyType({"dusk": {"reed": "#663399"}, "foam": {"clay": "#f5f5dc"}})


def coloured() -> Plan:
    """Return a plan in whose file each of two colourways gives a cord another colour."""
    plan = plan_of(row(1, (2, 3)), pieces=2)
    return replace(plan, project=replace(plan.project, colourways=DUSK))


def reed(plan: Plan) -> model.Cord:
    return plan.project.cords["reed"]


def test_a_key_shows_the_next_colourway_and_the_piece_keeps_it(tmp_path: Path) -> None:
    plan, clock = coloured(), Clock()
    aids = Aids(colourways=Colourways(tmp_path))
    app = BenchApp(on_bench=on_bench(tmp_path, plan, clock, 1), clock=clock, aids=aids)

    async def drive(seen: Bench) -> None:
        assert isinstance(app.screen, WorkScreen)
        for told, colour in (
            ("The colourway dusk.", "#663399"), ("The colourway foam.", "#5b7f3a"),
            ("The colours that the piece was begun in.", "#5b7f3a"),
            ("The colourway dusk.", "#663399"),
        ):  # fmt: skip
            await seen.press("F")
            assert told in " ".join(seen.text().split())
            assert reed(app.screen.work.plan).colour == colour
            assert app.screen.inks.strands[0] == colour
        assert app.screen.work.done == 1

    run(app, clock, drive)
    assert Colourways(tmp_path).of(1) == "dusk"
    other = Colourways(tmp_path).of(2)
    assert other == "", "another piece has its own"


def test_plain_lines_name_the_colour_that_is_shown(tmp_path: Path) -> None:
    """And a project without colourways says so and changes nothing."""
    clock, aids = Clock(), Aids(colourways=Colourways())
    opened = on_bench(tmp_path, coloured(), clock)
    walk = PlainWalk(BenchController.on(opened, clock, Keys(), aids))
    assert walk.answer("colours")[0] == "The colourway dusk."
    assert reed(walk.work.plan).colour_name == "#663399"
    assert walk.answer("F")[0] == "The colourway foam."
    (tmp_path / "other").mkdir()
    bare = on_bench(tmp_path / "other", plan_of(row(1, (2, 3))), clock)
    walk = PlainWalk(BenchController.on(bare, clock, Keys(), aids))
    assert "no colourways" in walk.answer("colours")[0]


def test_a_colourway_that_the_file_has_no_more_is_passed_over(tmp_path: Path) -> None:
    (tmp_path / "colourways.json").write_text('{"1": "storm"}')
    clock, aids = Clock(), Aids(colourways=Colourways(tmp_path))
    work = BenchController.on(on_bench(tmp_path, coloured(), clock), clock, Keys(), aids)
    assert reed(work.plan).colour == "#5b7f3a"
    assert aids.colourways.turn(1, work.plan.project) == "The colourway dusk."


def test_looking_ahead_colours_can_be_tried_and_the_piece_keeps_its_own(tmp_path: Path) -> None:
    """The picture follows at once; the whole piece is a key away."""
    clock, aids = Clock(), Aids(colourways=Colourways(tmp_path))
    opened = on_bench(tmp_path, coloured(), clock, 1)
    app = BenchApp(on_bench=opened, clock=clock, aids=aids)

    async def drive(seen: Bench) -> None:
        await seen.press("g", "F")
        assert isinstance(app.screen, LookScreen)
        assert "The colourway dusk." in seen.text()
        assert app.screen.inks.strands[0] == "#663399"
        await seen.press("plus")
        assert "The colourway dusk." not in seen.text()
        assert app.screen.inks.strands[0] == "#663399"
        await seen.press("f")
        assert isinstance(app.screen, PieceScreen)
        await seen.press("escape", "q")
        assert isinstance(app.screen, WorkScreen)
        assert app.screen.inks.strands[0] == "#5b7f3a"
        assert app.screen.work.done == 1

    run(app, clock, drive)
