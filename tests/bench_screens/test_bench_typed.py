"""Keys that come faster than they can be dealt with: in turn, and judged by when they were read."""

import asyncio
from collections.abc import Awaitable, Callable, Sequence
from dataclasses import replace
from pathlib import Path

import pytest
from bench_pieces import Clock, mixed_plan, on_bench
from textual import events
from textual.strip import Strip

from coach.session.ports import Aids, OnBench
from coach.session.view_model import View
from coach.settings.overrides import Kept
from coach.settings.settings import Settings
from coach.tui.app import BenchApp
from coach.tui.layout.work_layout import WorkLayout
from coach.tui.screens.work_screen import WorkScreen


class ReadingClock(Clock):
    """A clock by which the times in the keys themselves count."""

    def tick_at(self, monotonic_s: float) -> int:
        return round(monotonic_s * 1000)


def key(name: str, read_s: float = 0.0) -> events.Key:
    """Return a key as it was read at a time."""
    read = events.Key(name, name if len(name) == 1 else None)
    read.time = read_s
    return read


def tap(read_s: float = 0.0) -> list[events.Event]:
    """Return a tap in the middle of the screen as it was read at a time."""
    kinds = (events.MouseDown, events.MouseUp)
    read: list[events.Event] = [
        kind(None, 40, 12, 0, 0, 1, shift=False, meta=False, ctrl=False) for kind in kinds
    ]
    for event in read:
        event.time = read_s
    return read


def bench(
    folder: Path, settings: Settings | None = None, left_ms: int | None = None
) -> tuple[BenchApp, OnBench]:
    opened = replace(on_bench(folder, mixed_plan(), ReadingClock()), left_ms=left_ms)
    aids = Aids(kept=Kept(settings or Settings()))
    return BenchApp(on_bench=opened, clock=ReadingClock(), aids=aids), opened


def run(app: BenchApp, drive: Callable[[Callable[[], Awaitable[None]]], Awaitable[None]]) -> None:
    async def go() -> None:
        async with app.run_test() as pilot:
            await pilot.pause()
            await drive(pilot.pause)

    asyncio.run(go())


def sent(app: BenchApp, typed: Sequence[events.Event]) -> None:
    """Send it all at once, as what has waited comes."""

    async def drive(pause: Callable[[], Awaitable[None]]) -> None:
        for event in typed:
            app.post_message(event)
        await pause()
        # on a busy machine the test's own pause may end while keys still wait
        while app._typed._waiting.qsize() or not app._typed._settled():
            await pause()
        await pause()

    run(app, drive)


@pytest.mark.parametrize(
    ("read_s", "made"),
    [((0, 0.2, 0.4, 0.6), 4), ((0, 0.1, 0.2, 0.3), 1), ((0, 0.149, 0.3), 2), ((0, 0.15), 2)],
)
def test_keys_that_come_together_are_judged_by_when_they_were_read(
    tmp_path: Path, read_s: tuple[float, ...], made: int
) -> None:
    app, opened = bench(tmp_path)
    sent(app, [key("space", at_s) for at_s in read_s])
    assert opened.sitting.state.done == made


@pytest.mark.parametrize(
    ("typed", "made"),
    [
        ((("c", 0), ("space", 1), ("space", 1.05)), 0),
        ((("c", 0), ("space", 1), ("space", 1.05), ("space", 1.3)), 1),
        ((("c", 0), ("space", 1), ("enter", 1.05)), 1),
        ((("c", 0), ("q", 0), ("space", 0)), 1),
        ((("b", 0), ("space", 1), ("space", 1), ("b", 1), ("space", 1)), 1),
        ((("c", 0), ("c", 0), ("b", 0), ("b", 0), ("space", 0)), 1),
    ],
)
def test_one_press_never_closes_a_page_and_counts_as_well(
    tmp_path: Path, typed: Sequence[tuple[str, float]], made: int
) -> None:
    app, opened = bench(tmp_path)
    sent(app, [key(*one) for one in typed])
    assert opened.sitting.state.done == made


def test_an_elbow_that_takes_up_a_piece_with_several_keys_counts_nothing(tmp_path: Path) -> None:
    app, opened = bench(tmp_path, Settings(any_key=True), left_ms=1)
    sent(app, [key("enter", 1), key("j", 1.01), key("w", 1.02), key("e", 2)])
    assert opened.sitting.state.done == 1


def test_what_is_pasted_waits_for_the_screen_that_the_key_before_it_opens(tmp_path: Path) -> None:
    app, opened = bench(tmp_path)
    sent(app, [key("n"), events.Paste("pull tight"), key("enter"), key("space")])
    (note,) = opened.sitting.state.notes
    assert note.words == "pull tight"
    assert opened.sitting.state.done == 1


def test_taps_that_come_together_are_judged_by_when_they_were_read(tmp_path: Path) -> None:
    app, opened = bench(tmp_path)
    sent(app, [event for read_s in (1.0, 1.3, 1.6, 1.65) for event in tap(read_s)])
    assert opened.sitting.state.done == 3


def test_a_tap_meets_the_screen_that_the_key_before_it_opened(tmp_path: Path) -> None:
    app, opened = bench(tmp_path)
    sent(app, [key("c", 1), *tap(2)])
    assert opened.sitting.state.done == 0


def test_a_count_is_shown_though_a_tap_on_nothing_waits_behind_it(tmp_path: Path) -> None:
    app, _ = bench(tmp_path)
    shown: list[int] = []

    async def drive(pause: Callable[[], Awaitable[None]]) -> None:
        down = tap(2)[0]
        for event in (key("space", 1), down):
            app.post_message(event)
        await pause()
        await pause()
        assert isinstance(app.screen, WorkScreen)
        shown.append(app.screen._view.done)

    run(app, drive)
    assert shown == [1]


@pytest.mark.parametrize("turns", [1, 2])
def test_what_is_typed_while_the_app_ends_meets_no_half_closed_screen(
    tmp_path: Path, turns: int
) -> None:
    """The screens are taken apart while keys still come; whoever typed them has left."""

    async def end() -> None:
        app, _ = bench(tmp_path)
        async with app.run_test() as pilot:
            app.post_message(key("slash"))
            await pilot.pause()
            for event in (key("enter"), *tap(), events.Paste("reed"), key("down")):
                app.post_message(event)
            for _ in range(turns):
                await asyncio.sleep(0)

    asyncio.run(end())


def test_a_screen_closes_once_and_not_while_it_is_covered(tmp_path: Path) -> None:
    app, _ = bench(tmp_path)

    async def drive(pause: Callable[[], Awaitable[None]]) -> None:
        work = app.screen
        app.post_message(key("c"))
        await pause()
        page = app.screen
        work.dismiss()
        page.dismiss()
        page.dismiss()
        await pause()
        assert app.screen is work
        page.dismiss()
        await pause()
        assert app.screen is work

    run(app, drive)


def test_presses_that_were_merged_are_told_and_counted_on_one_key(tmp_path: Path) -> None:
    """After a stall ten presses are read at once; no clock tells them apart, but she can."""
    app, opened = bench(tmp_path)
    sent(app, [key("space", 1.0) for _ in range(10)])
    assert opened.sitting.state.done == 1
    assert app.work
    assert "counted once, 9 left out. = counts them." in app.work.message


def test_the_key_that_gives_back_counts_just_the_merged_ones(tmp_path: Path) -> None:
    app, opened = bench(tmp_path)
    presses = [key("space", 1.0) for _ in range(4)]
    later = [key("space", 2.0), key("equals_sign", 3.0), key("equals_sign", 4.0)]
    sent(app, [*presses, *later])
    assert opened.sitting.state.done == 5
    assert app.work
    assert "No press" in app.work.message


def test_keys_that_wait_are_counted_each_and_shown_once(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A bench that is slower than the hand draws what is true by then, and loses no key."""
    app, opened = bench(tmp_path, Settings(bounce_ms=0))
    drawn: list[int] = []
    lines = WorkLayout.lines

    def counted(face: WorkLayout, view: View, width: int, height: int) -> list[Strip]:
        drawn.append(view.done)
        return lines(face, view, width, height)

    async def drive(pause: Callable[[], Awaitable[None]]) -> None:
        monkeypatch.setattr(WorkLayout, "lines", counted)
        for number in range(6):
            app.post_message(key("space", float(number)))
        while opened.sitting.state.done < 6 or app.more_typed:
            await pause()
        await pause()
        assert opened.sitting.state.done == 6
        assert drawn[-1] == 6
        assert len(drawn) < 4

    run(app, drive)
