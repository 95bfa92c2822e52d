"""Every screen with whatever comes: sizes, long and right-to-left names, paste, keys, mouse."""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any, cast

from bench_pieces import Clock, mixed_plan, on_bench
from test_bench_screens import Bench, run
from textual import events
from textual.screen import Screen

from coach.desk.batch_lines import BatchLine, BatchList
from coach.piece import Summary
from coach.piece.entering.project_diff import ProjectChange
from coach.session.adjusting.choosing import Choosing
from coach.session.adjusting.fitting import FittingController
from coach.session.adjusting.measure_questions import Answer, MeasureQuestion
from coach.session.controller import BenchController
from coach.session.ports import ProjectOffer
from coach.tui import screens
from coach.tui.app import BenchApp
from coach.tui.drawing.cells import UNICODE
from coach.tui.layout.styled_text import Inks
from coach.tui.screens.question_screen import QuestionScreen
from coach.tui.screens.resume_screen import ResumeScreen
from coach.tui.screens.work_screen import WorkScreen
from coach.tui.widgets.keys_line import Hint

NAME = "מפתח קנים " + "Weidenröschen und Schilf " * 8
SIZES = ((1, 1), (20, 6))
LARGE = ((2, 30), (500, 200))
WITH_LARGE = ("ListScreen", "work")
UNKNOWN = ("f5", "f24", "alt+x", "ctrl+a", "left_square_bracket")
PASTED = "\u202e\x1b[2J\x1b]0;x\x07[red]\nzwei\tdrei " + "x" * 3000
# no screens, and one with a test of its own
MADE_ELSEWHERE = {"FormField", "ListDetail", "ListPictures", "FreehandScreen"}

Made = Screen[Any] | None


class LongOrder:
    """An order of forty pieces whose name, cords and labels are long."""

    def told(self) -> str:
        return NAME

    def to_ready(self, unit: str) -> BatchList:
        del unit
        pieces = tuple((n, NAME) for n in range(40))
        line = BatchLine(NAME, NAME, NAME, 850.0, hung=True, pieces=pieces)
        lines = tuple(replace(line, label=f"{n} {NAME}") for n in range(40))
        return BatchList(lines, {NAME: 40})


def offered(inks: Inks) -> Screen[Any]:
    """Return the list, filled once it is shown."""
    screen = screens.ListScreen(inks)
    piece = Summary(1, NAME, NAME, "", 3, 9, 0, 1_772_000_000_000)
    screen.call_after_refresh(screen.offer, [piece], [ProjectOffer("strap", NAME, NAME)], NAME)
    return screen


def makers(work: BenchController, inks: Inks) -> dict[str, Callable[[], Made]]:
    """Return what makes each screen of the registry, and those that open by themselves."""
    plan, otherwise, order = work.plan, work.otherwise(), cast("Any", LongOrder())
    edited = ProjectChange(NAME, plan, (NAME,) * 30, same=False, place=3)
    asked = MeasureQuestion(
        NAME, (Answer("1", NAME, lambda: NAME), Answer("2", NAME, lambda: NAME))
    )
    return {
        "ActionsScreen": lambda: screens.ActionsScreen(inks, work.keys),
        "AskScreen": lambda: screens.AskScreen(inks, NAME, [screens.FormField(NAME, NAME, str)]),
        "BeforeScreen": lambda: screens.BeforeScreen(work, inks),
        "ChangedScreen": lambda: screens.ChangedScreen(edited, 9, inks),
        "HangingScreen": lambda: screens.HangingScreen(inks),
        "HowScreen": lambda: screens.HowScreen(plan, work.done, inks, UNICODE),
        "LeavePatternScreen": lambda: screens.LeavePatternScreen(inks),
        "ListScreen": lambda: offered(inks),
        "LookScreen": lambda: screens.LookScreen(work, inks, UNICODE),
        "NotesScreen": lambda: screens.NotesScreen(work, inks),
        "OrderBeforeScreen": lambda: screens.OrderBeforeScreen(work, order, inks),
        "PieceScreen": lambda: screens.PieceScreen(plan, inks, UNICODE),
        "TroubleScreen": lambda: screens.TroubleScreen(work.sitting, inks),
        "WishScreen": lambda: screens.WishScreen(FittingController(plan), inks),
        "choose_screen": lambda: screens.choose_screen(Choosing(otherwise), inks),
        "cords_page": lambda: screens.cords_page(work, inks),
        "hints_page": lambda: screens.hints_page(inks, [Hint(NAME, NAME, NAME, NAME)]),
        "keys_page": lambda: screens.keys_page(work, inks),
        "legend_page": lambda: screens.legend_page(work, inks, UNICODE),
        "measure_screen": lambda: screens.measure_screen(otherwise, inks),
        "measured_page": lambda: screens.measured_page(work, inks, NAME),
        "otherwise_screen": lambda: screens.otherwise_screen(otherwise, inks),
        "plan_page": lambda: screens.plan_page(work, inks),
        "question": lambda: QuestionScreen(asked, inks),
        "resume": lambda: ResumeScreen(work, inks, UNICODE, work.sitting.state.touched_ms),
        "work": lambda: None,
    }


def mouse(kind: type[events.MouseEvent], x: int, y: int) -> events.MouseEvent:
    return kind(None, x, y, 0, 0, 1, shift=False, meta=False, ctrl=False, screen_x=x, screen_y=y)


def test_every_screen_takes_whatever_comes(tmp_path: Path) -> None:
    """Nothing is wider than the terminal, nothing acts on it, nothing is lost, and all close."""
    plan, clock = mixed_plan(), Clock()
    plan = replace(plan, project=replace(plan.project, title=NAME))
    app = BenchApp(on_bench=on_bench(tmp_path, plan, clock, 9), clock=clock)

    async def sizes(seen: Bench, *wanted: tuple[int, int]) -> None:
        for size in wanted:
            await seen.pilot.resize_terminal(*size)
            await seen.pilot.pause()
            strips = app.screen._compositor.render_strips()
            assert [strip.cell_length for strip in strips] == [size[0]] * size[1]
            assert not {"\x1b", "\u202e", "\x07"} & {*seen.text()}

    async def poke(seen: Bench) -> None:
        app.post_message(events.Paste(PASTED))
        await seen.press(*UNKNOWN, apart_ms=10)
        for kind in (events.MouseMove, events.MouseScrollDown, events.MouseScrollUp):
            app.post_message(mouse(kind, 40, 12))
        app.post_message(mouse(events.MouseMove, 900, 900))
        await seen.pilot.pause()

    async def drive(seen: Bench) -> None:
        bench = app.screen
        assert isinstance(bench, WorkScreen)
        made = makers(bench.work, bench.inks)
        assert {*screens.__all__} - MADE_ELSEWHERE <= {*made}
        for name, make in made.items():
            screen = make()
            if screen:
                app.push_screen(screen)
                await seen.pilot.pause()
                assert app.screen is screen, name
            await poke(seen)
            large = LARGE if name in WITH_LARGE else ()
            await sizes(seen, *SIZES, *large, (80, 24))
            while app.screen is not bench:
                app.pop_screen()
                await seen.pilot.pause()
        assert bench.work.done == 9
        await seen.press("space")
        assert bench.work.done == 10

    run(app, clock, drive, (80, 24))
