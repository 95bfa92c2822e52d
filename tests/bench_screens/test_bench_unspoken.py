"""That the coach cannot speak is told once, on a line of its own, and hides nothing."""

import asyncio
import re
from collections.abc import Awaitable, Callable, Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from bench_pieces import Clock, knot, on_bench, plan_of, row
from textual.pilot import Pilot

from coach.audio.speech import Program, Voice
from coach.session.controller import BenchController
from coach.session.keymap import Keys
from coach.session.ports import Aids
from coach.session.view_model import View
from coach.settings.overrides import Kept
from coach.settings.settings import Settings
from coach.tui.app import BenchApp
from coach.tui.layout.styled_text import Inks
from coach.tui.layout.work_layout import WorkLayout
from coach.tui.theme.palette import DARK

WHY = "espeak-ng does not speak here. The coach goes on without it."
BLOCKS = "[\u2580-\u259f]"  # what pictures and large figures are made of
SIZES = ((40, 12), (80, 24), (120, 40))


class Failing(Voice):
    """Is found out to be silent at the moment that a test says."""

    def __init__(self) -> None:
        super().__init__(Program("/nowhere/espeak-ng"))
        self.said = 0

    def say(self, text: str) -> None:
        """Say nothing; the program has yet to be heard of."""
        self.said += bool(text)

    def fail(self) -> None:
        self._fail_here()


class Seen:
    """The bench, with what is on it as text."""

    def __init__(self, pilot: Pilot[int], clock: Clock, voice: Failing) -> None:
        self.pilot, self.clock, self.voice = pilot, clock, voice

    async def press(self, *keys: str) -> str:
        for key in keys:
            self.clock.ms += 1000
            await self.pilot.press(key)
        return await self.text()

    async def found_out(self) -> str:
        """Let the voice fail, and a second go by."""
        self.voice.fail()
        self.pilot.app.screen._follow_time()  # type: ignore[attr-defined]  # the screen of the work
        return await self.text()

    async def text(self) -> str:
        await self.pilot.pause()
        lines = self.pilot.app.screen._compositor.render_strips()
        return " ".join(re.sub(BLOCKS, " ", " ".join(line.text for line in lines)).split())


def run(folder: Path, drive: Callable[[Seen], Awaitable[None]], size: tuple[int, int]) -> None:
    plan = plan_of(row(1, (2, 3, 4)), knot("square knot", (1, 2, 3, 4), times=2))
    clock, voice = Clock(), Failing()
    aids = Aids(kept=Kept(Settings(speech=True)), voice=voice)
    app = BenchApp(on_bench=on_bench(folder, plan, clock), clock=clock, aids=aids)

    async def go() -> None:
        async with app.run_test(size=size) as pilot:
            await pilot.pause()
            await drive(Seen(pilot, clock, voice))

    asyncio.run(go())


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize(
    ("keys", "answer"),
    [
        (("space", "backspace"), "Took one back."),
        (("backspace",), "Nothing is made yet."),
        (("p",), "Clock stopped."),
        (("space", "r"), "Counted the rest of the step: 2."),
        (("i",), "inches"),
        (("space",) * 6, "Nothing is left to count."),
    ],
    ids=["back", "none", "pause", "rest", "units", "end"],
)
def test_the_answer_to_a_key_stays_beside_it(
    tmp_path: Path, keys: tuple[str, ...], answer: str, size: tuple[int, int]
) -> None:
    async def drive(seen: Seen) -> None:
        before = await seen.press(*keys)
        assert answer in before
        after = await seen.found_out()
        assert answer in after
        assert WHY in after

    run(tmp_path, drive, size)


@pytest.mark.parametrize("size", SIZES)
def test_it_is_told_once_until_the_next_key(tmp_path: Path, size: tuple[int, int]) -> None:
    async def drive(seen: Seen) -> None:
        assert WHY in await seen.found_out()
        assert WHY in await seen.found_out()
        for key in ("space", "y", "space", "p"):
            assert WHY not in await seen.press(key)
        assert WHY not in await seen.found_out()

    run(tmp_path, drive, size)


def views(folder: Path) -> Iterator[View]:
    """Yield what the bench may have to say at the same time."""
    plan = plan_of(row(1, (2, 3, 4)), knot("square knot", (1, 2, 3, 4), times=2))
    work = BenchController(plan, on_bench(folder, plan, Clock()).sitting, Clock(), Keys())
    view = work.view()
    short = tuple(replace(left, short=True, runs_out_at=2) for left in view.cords)
    yield replace(view, short=short)
    yield replace(view, paused=True)
    yield replace(view, message="NOT SAVED: 3 counts in memory only. The disk is full.")
    yield replace(view, noted=("Noted: the third strand is frayed.",))
    yield replace(view, notes=("Keep it flat.",))


@pytest.mark.parametrize("size", [*SIZES, (80, 33), (100, 30)])
def test_whatever_else_is_said_is_said_as_without_it(tmp_path: Path, size: tuple[int, int]) -> None:
    """Warnings, the stopped clock, what is not kept, notes: all stay; the board gives way."""
    plan = plan_of(row(1, (2, 3, 4)), knot("square knot", (1, 2, 3, 4), times=2))
    for view in views(tmp_path):
        face = WorkLayout(plan, Inks(DARK).of(plan), Keys())
        without, told = (
            [part for line in face.lines(one, *size) for part in re.split(r"\s{3,}", line.text)]
            for one in (view, replace(view, unspoken=WHY))
        )
        assert WHY in " ".join(" ".join(told).split())
        words = [part for part in without if len(re.findall(r"[a-z]{2,}", part)) > 2]
        assert len(words) > 2
        assert all(line in told for line in words)
