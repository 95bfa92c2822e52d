"""The screens as a maker meets them: keys in, text out, at three sizes and below.

Needs POSIX: signals.
"""

import asyncio
import os
import re
import signal
from collections.abc import Awaitable, Callable, Sequence
from dataclasses import replace
from pathlib import Path
from weakref import ref

import pytest
from bench_pieces import ABOUT, Clock, knot, mixed_plan, on_bench, plan_of, row
from settled import forget_cancelled_timers
from textual.pilot import Pilot

from coach.piece import CannotKeep, Store, Summary
from coach.plan.plan_model import Plan
from coach.project import model
from coach.session.adjusting.fitting import FittingController
from coach.session.controller import BenchController
from coach.session.keymap import Keys
from coach.session.ports import CannotOpen, OnBench, ProjectOffer
from coach.tui.app import BenchApp
from coach.tui.drawing.cells import ASCII

Drive = Callable[["Bench"], Awaitable[None]]


class Bench:
    """An app in a terminal that is not there, with a clock that goes on between keys."""

    def __init__(self, app: BenchApp, pilot: Pilot[int], clock: Clock) -> None:
        self.app, self.pilot, self.clock = app, pilot, clock

    async def press(self, *keys: str, apart_ms: int = 2000) -> None:
        for key in keys:
            self.clock.ms += apart_ms
            await self.pilot.press(key)
        await self.pilot.pause()

    def text(self) -> str:
        """Return the characters on the screen, its lines right-stripped."""
        strips = self.app.screen._compositor.render_strips()
        return "\n".join(strip.text.rstrip() for strip in strips)


def run(app: BenchApp, clock: Clock, drive: Drive, size: tuple[int, int] = (80, 24)) -> None:
    async def go() -> None:
        async with app.run_test(size=size) as pilot:
            await pilot.pause()
            await drive(Bench(app, pilot, clock))

    asyncio.run(go())


def bench(folder: Path, plan: Plan, done: int = 0) -> tuple[BenchApp, OnBench, Clock]:
    clock = Clock()
    opened = on_bench(folder, plan, clock, done)
    return BenchApp(on_bench=opened, clock=clock), opened, clock


@pytest.mark.parametrize("size", [(40, 12), (80, 24), (120, 40)])
def test_every_size_shows_the_sentence_the_strands_and_the_keys(
    tmp_path: Path, size: tuple[int, int]
) -> None:
    """Count, what to do, who holds, and no line wider than the terminal."""
    app, _, clock = bench(tmp_path, plan_of(row(1, range(2, 7))), 2)

    async def drive(seen: Bench) -> None:
        await seen.press("space")
        text = seen.text()
        beside = re.sub(
            r"(?:[█▄▀\s]|\bof\b)+", " ", text
        )  # the large figures' last line comes between
        assert "now strand 5 (rush)" in beside
        assert re.search(r"1 +2 +3 +4 +5 +6", text)
        assert "space made" in text
        assert "█" in text
        assert len(text.splitlines()) == size[1]
        assert max(map(len, text.splitlines())) <= size[0]

    run(app, clock, drive, size)


def test_the_usual_screen_tells_place_next_cord_and_time(tmp_path: Path) -> None:
    app, _, clock = bench(tmp_path, mixed_plan(), 1)

    async def drive(seen: Bench) -> None:
        text = seen.text()
        for told in ("wave, repeat 1 of 2", "step 1 of 3", "1 of ", "next ", "cord left",
                     "at the end", "sitting ", "to go ", "finished "):  # fmt: skip
            assert told in text

    run(app, clock, drive)


def test_keys_count_and_take_back(tmp_path: Path) -> None:
    """Each counting key counts one, each other one takes one back, and it is stored by then."""
    app, opened, clock = bench(tmp_path, mixed_plan())

    async def drive(seen: Bench) -> None:
        for n, key in enumerate(("space", "enter", "right", "down", "pagedown"), start=1):
            await seen.press(key)
            assert opened.sitting.state.done == n
            assert f" {n} of " in seen.text()
        for n, key in enumerate(("backspace", "left", "up", "pageup"), start=1):
            await seen.press(key)
            assert opened.sitting.state.done == 5 - n

    run(app, clock, drive)


def test_a_bouncing_key_counts_once_and_is_told(tmp_path: Path) -> None:
    app, opened, clock = bench(tmp_path, mixed_plan())

    async def drive(seen: Bench) -> None:
        await seen.press("space")
        await seen.press("space", "space", "space", apart_ms=100)
        assert opened.sitting.state.done == 1
        assert "counted once" in seen.text()
        await seen.press("space", apart_ms=150)
        assert opened.sitting.state.done == 2

    run(app, clock, drive)


def test_the_rest_of_a_step_and_back_to_its_start(tmp_path: Path) -> None:
    plan = plan_of(row(1, (2, 3, 4)), knot("square knot", (1, 2, 3, 4), times=5))
    app, opened, clock = bench(tmp_path, plan, 4)

    async def drive(seen: Bench) -> None:
        await seen.press("r")
        assert opened.sitting.state.done == 8
        await seen.press("s")
        assert opened.sitting.state.done == 3
        assert "5 ties to unpick" in seen.text()
        await seen.press("s")
        assert opened.sitting.state.done == 0

    run(app, clock, drive)


def test_the_finished_piece_is_told_and_can_be_taken_back(tmp_path: Path) -> None:
    plan = plan_of(row(1, (2, 3, 4)))
    app, opened, clock = bench(tmp_path, plan, 2)

    async def drive(seen: Bench) -> None:
        await seen.press("space")
        for told in ("Finished: all 3 made", "worked", "cord over", "1 reed"):
            assert told in seen.text()
        await seen.press("space")
        assert opened.sitting.state.done == 3
        await seen.press("backspace")
        assert opened.sitting.state.done == 2
        assert "Finished" not in seen.text()

    run(app, clock, drive)


def test_the_screen_follows_the_terminal_down_to_nothing(tmp_path: Path) -> None:
    app, _, clock = bench(tmp_path, mixed_plan(), 3)

    async def drive(seen: Bench) -> None:
        for size in ((120, 40), (40, 12), (30, 8), (12, 3), (1, 1), (200, 5), (5, 60), (80, 24)):
            await seen.pilot.resize_terminal(*size)
            await seen.pilot.pause()
            assert all(len(line) <= size[0] for line in seen.text().splitlines())
            await seen.press("space", "backspace")
        assert "next " in seen.text()

    run(app, clock, drive)


def test_text_from_a_file_is_shown_as_it_is(tmp_path: Path) -> None:
    """What looks like markup stays; what would act on the terminal goes."""
    hostile = "[/b] [red]x \x1b[31m[@click=app.quit]y"
    noted = replace(ABOUT, note=hostile)
    plan = plan_of(model.Do(noted, "Pin [it] down [/]."), row(1, (2,)), title="[/b]\x1b[2JReed")
    app, _, clock = bench(tmp_path, plan)

    async def drive(seen: Bench) -> None:
        text = " ".join(seen.text().split())
        assert "[/b][2JReed" in text
        assert "Pin [it] down [/]." in text
        assert "[/b] [red]x [31m[@click=app.quit]y" in text
        assert "\x1b" not in text

    run(app, clock, drive, (120, 40))


def test_pages_open_and_close_and_keep_the_count(tmp_path: Path) -> None:
    app, opened, clock = bench(tmp_path, mixed_plan(), 3)

    async def drive(seen: Bench) -> None:
        for key, told in (("c", "every strand"), ("l", "knots"), ("h", "Count one as made")):
            await seen.press(key)
            assert told in seen.text()
            await seen.press("escape")
            assert "next " in seen.text()
        assert opened.sitting.state.done == 3

    run(app, clock, drive)


def test_the_clock_can_be_stopped(tmp_path: Path) -> None:
    app, opened, clock = bench(tmp_path, mixed_plan(), 3)

    async def drive(seen: Bench) -> None:
        await seen.press("p")
        assert opened.sitting.state.paused
        assert "Clock stopped" in seen.text()
        await seen.press("p")
        assert not opened.sitting.state.paused

    run(app, clock, drive)


def test_counts_that_cannot_be_kept_go_on_in_memory_and_are_told_so(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    app, opened, clock = bench(tmp_path, mixed_plan(), 3)

    def full(*_: object) -> None:
        raise CannotKeep("The disk is full.")

    async def drive(seen: Bench) -> None:
        with monkeypatch.context() as broken:
            broken.setattr(Store, "append_all", full)
            await seen.press("space")
            assert "NOT SAVED: 1 count in memory only. The disk is full." in seen.text()
            assert " 4 of " in seen.text()
        assert opened.sitting.keep()
        assert opened.sitting.waiting == 0
        await seen.press("q")

    run(app, clock, drive)
    assert app.return_code == 0


def test_the_bell_rings_at_the_end_of_a_step_and_of_a_repeat(tmp_path: Path) -> None:
    """A step of one tie is silent, one of several rings, the last of a repeat rings otherwise."""
    wave = (row(1, (2, 3)), row(6, (5,)), row(1, (2,)))
    plan = plan_of(model.Use(ABOUT, "wave", 2), row(1, (2,)), parts={"wave": wave})
    clock = Clock()
    opened = on_bench(tmp_path, plan, clock)
    work = BenchController(plan, opened.sitting, clock, Keys())
    heard = []
    for _ in range(plan.total):
        clock.ms += 1000
        heard.append(work.act("count"))
    assert heard == ["", "step", "", "repeat", "", "step", "", "repeat", ""]


@pytest.mark.parametrize("number", [signal.SIGTERM, signal.SIGHUP])
def test_a_signal_leaves_as_the_key_does(tmp_path: Path, number: int) -> None:
    app, opened, clock = bench(tmp_path, mixed_plan(), 3)

    async def drive(seen: Bench) -> None:
        os.kill(os.getpid(), number)
        await seen.pilot.pause()

    run(app, clock, drive)
    assert app.return_code == 0
    assert opened.sitting.state.paused


class Shelf:
    """Two projects, one of them broken, and the pieces begun from them."""

    def __init__(self, folder: Path, clock: Clock) -> None:
        self._folder, self._clock = folder, clock
        self._opened: list[OnBench] = []

    def pieces(self) -> Sequence[Summary]:
        return [
            Summary(o.sitting.piece_id, o.sitting.name, "", "", o.sitting.state.done, 3, 0,
                    o.sitting.state.touched_ms)
            for o in self._opened
        ]  # fmt: skip

    def projects(self) -> Sequence[ProjectOffer]:
        return [
            ProjectOffer("strap", "Reed strap", "[b]One[/b] row."),
            ProjectOffer("bad", "Torn page"),
        ]

    def fitting(self, key: str) -> FittingController:
        if key == "bad":
            raise CannotOpen("torn.yaml:3:1: this page is torn")
        return FittingController(plan_of(row(1, (2, 3, 4))))

    def begin(self, key: str, wish: object = None, *, plan: object = None) -> OnBench:
        assert not wish
        assert plan is not None
        self._opened.append(on_bench(self._folder, self.fitting(key).plan, self._clock))
        return self._opened[-1]

    def open(self, piece_id: int) -> OnBench:
        return next(o for o in self._opened if o.sitting.piece_id == piece_id)

    def away(self) -> tuple[int, ...]:
        return ()


def test_what_a_project_says_is_shown_as_it_is_written(tmp_path: Path) -> None:
    """Without the room beside the list, it stands in its line."""
    clock = Clock()
    app = BenchApp(shelf=Shelf(tmp_path, clock), clock=clock)

    async def drive(seen: Bench) -> None:
        await seen.pilot.pause()
        assert "[b]One[/b] row." in seen.text()

    run(app, clock, drive, (78, 30))


def test_from_the_list_to_the_plan_to_the_bench_and_back(tmp_path: Path) -> None:
    clock = Clock()
    app = BenchApp(shelf=Shelf(tmp_path, clock), clock=clock)

    async def drive(seen: Bench) -> None:
        await seen.pilot.pause()
        assert "Reed strap" in seen.text()
        await seen.press("enter")
        for told in ("Reed strap", "cut", "reed", "3 clove hitches", " long and "):
            assert told in seen.text()
        await seen.press("enter")
        await seen.press("space")
        assert " 1 of 3" in seen.text()
        await seen.press("q")
        await seen.pilot.pause()
        assert "On the bench" in seen.text()
        assert "1 of 3" in seen.text()
        await seen.press("q")

    run(app, clock, drive)
    assert app.return_code == 0


def test_pieces_opened_one_after_another_do_not_pile_up(tmp_path: Path) -> None:
    """What a piece took is given back while later ones are on the bench, at the latest."""
    clock = Clock()
    app = BenchApp(shelf=Shelf(tmp_path, clock), clock=clock)
    works: list[ref[BenchController]] = []

    async def drive(seen: Bench) -> None:
        await seen.press("enter")
        for _ in range(8):
            await seen.press("enter")
            assert app.work
            works.append(ref(app.work))
            await seen.press("q")
            await seen.pilot.pause()
            forget_cancelled_timers()

    run(app, clock, drive)
    assert not any(work() for work in works[:4])


def test_a_project_that_cannot_be_opened_is_told_on_the_list(tmp_path: Path) -> None:
    clock = Clock()
    app = BenchApp(shelf=Shelf(tmp_path, clock), clock=clock)

    async def drive(seen: Bench) -> None:
        await seen.pilot.pause()
        await seen.press("down", "enter")
        assert "this page is torn" in seen.text()

    run(app, clock, drive, (40, 12))


def test_a_terminal_that_shows_ascii_only_gets_nothing_else(tmp_path: Path) -> None:
    """Every screen, a title with other letters among them."""
    clock = Clock()
    plan = plan_of(row(1, range(2, 7)), title="Schilfgürtel … 7")
    app = BenchApp(on_bench=on_bench(tmp_path, plan, clock), clock=clock, glyphs=ASCII)

    async def drive(seen: Bench) -> None:
        for key in ("space", "c", "escape", "l", "escape", "h"):
            await seen.press(key)
            assert seen.text().isascii()
        await seen.press("escape")
        assert "Schilfg?rtel ~ 7" in seen.text()

    run(app, clock, drive)
