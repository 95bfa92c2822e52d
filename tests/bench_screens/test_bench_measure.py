"""Measuring on the bench, other repeats, and work that went otherwise than planned."""

import asyncio
from collections.abc import Awaitable, Callable
from pathlib import Path

import pytest
from bench_pieces import ABOUT, Clock, knot, on_bench, plan_of, row
from textual.pilot import Pilot

from coach.plan.plan_model import Plan
from coach.project import model
from coach.session.adjusting.measure_questions import KEEP, MeasureQuestion
from coach.session.controller import BenchController
from coach.session.keymap import Keys
from coach.session.ports import OnBench
from coach.tui.app import BenchApp
from coach.tui.layout.styled_text import Inks
from coach.tui.pages.measure_page import measure_lines
from coach.tui.theme.palette import DARK

A_WAVE = 7


def wave_plan() -> Plan:
    """Return six waves of a row and two square knots on six strands, and an end."""
    wave = (row(1, (2, 3, 4, 5, 6)), knot("square knot", (1, 2, 3, 4), times=2))
    return plan_of(
        model.Use(ABOUT, "wave", 6), knot("overhand knot", (1, 2, 3)), parts={"wave": wave}
    )


def bench(folder: Path, done: int = 3 * A_WAVE) -> tuple[BenchController, OnBench, Clock]:
    clock = Clock()
    opened = on_bench(folder, wave_plan(), clock, done)
    return BenchController(opened.plan, opened.sitting, clock, Keys()), opened, clock


class Screen:
    """The app in a terminal that is not there."""

    def __init__(self, app: BenchApp, pilot: Pilot[int], clock: Clock) -> None:
        self.app, self.pilot, self.clock = app, pilot, clock

    async def press(self, *keys: str) -> None:
        for key in keys:
            self.clock.ms += 2000
            await self.pilot.press(key)
        await self.pilot.pause()

    async def write(self, text: str) -> None:
        names = {" ": "space", ".": "full_stop", ",": "comma", "-": "minus"}
        await self.press(*(names.get(sign, sign) for sign in text), "enter")

    def text(self) -> str:
        strips = self.app.screen._compositor.render_strips()
        return "\n".join(strip.text.rstrip() for strip in strips)


def run(
    folder: Path, drive: Callable[[Screen, OnBench], Awaitable[None]],
    size: tuple[int, int] = (80, 24), done: int = 3 * A_WAVE,
) -> None:  # fmt: skip
    clock = Clock()
    opened = on_bench(folder, wave_plan(), clock, done)

    async def go() -> None:
        app = BenchApp(on_bench=opened, clock=clock)
        async with app.run_test(size=size) as pilot:
            await pilot.pause()
            await drive(Screen(app, pilot, clock), opened)

    asyncio.run(go())


@pytest.mark.parametrize("size", [(40, 12), (80, 24), (120, 40)])
def test_a_length_is_written_and_the_new_expectations_are_shown(
    tmp_path: Path, size: tuple[int, int]
) -> None:
    async def drive(seen: Screen, opened: OnBench) -> None:
        await seen.press("m")
        assert "length, relaxed (" in seen.text()
        height = opened.plan.height_mm[3 * A_WAVE] * 1.1
        await seen.write(f"{height:.0f} mm")
        assert "long, relaxed." in seen.text()
        assert "Finished about" in " ".join(seen.text().split())
        assert max(map(len, seen.text().splitlines())) <= size[0]
        (happening,) = opened.sitting.state.happenings
        assert happening.kind == "measured"
        await seen.press("escape")
        assert "space made" in seen.text()
        await seen.press("space")
        assert opened.sitting.state.done == 3 * A_WAVE + 1

    run(tmp_path, drive, size)


def test_a_rest_in_inches_moves_the_cord_that_is_told(tmp_path: Path) -> None:
    async def drive(seen: Screen, opened: OnBench) -> None:
        work = BenchController(opened.plan, opened.sitting, seen.clock, Keys())
        first = work.otherwise().order()[0]
        rest = work.otherwise().known.rests[first].length_mm - 1.2 * work.plan.used_mm(
            first, work.done
        )
        await seen.press("m", *["down"] * 5)
        await seen.write(f"{rest / 25.4:.1f} in")
        assert "of its stated thickness" in seen.text()
        assert len(opened.sitting.state.happenings) == 1

    run(tmp_path, drive)


@pytest.mark.parametrize(
    ("downs", "text", "told"),
    [
        (0, "0 cm", "A length must be more than zero"),
        (0, "3 m", "cannot be this piece"),
        (0, "7", "unit of this length is missing"),
        (0, "", "Nothing is changed"),
        (4, "2 km", "Unknown unit"),
        (4, "1 mm", "No number of repeats reaches"),
        (4, "0 mm", "must be more than zero"),
        (5, "9 m", "it cannot have more left"),
    ],
)
def test_what_cannot_be_is_told_and_changes_nothing(
    tmp_path: Path, downs: int, text: str, told: str
) -> None:
    async def drive(seen: Screen, opened: OnBench) -> None:
        before = opened.sitting.state
        await seen.press("m", *["down"] * downs)
        await seen.write(text)
        assert told in " ".join(seen.text().split())
        assert opened.sitting.state == before

    run(tmp_path, drive)


def test_one_key_makes_one_repeat_more_and_all_totals_follow(tmp_path: Path) -> None:
    async def drive(seen: Screen, opened: OnBench) -> None:
        total = opened.plan.total
        await seen.press("plus")
        assert "7 waves: about" in seen.text()
        assert f"{3 * A_WAVE} of {total + A_WAVE}" in seen.text()
        assert "repeat 4 of 7" in seen.text()
        assert opened.sitting.state.total == total + A_WAVE
        await seen.press("minus", "minus")
        assert opened.sitting.state.total == total - A_WAVE
        await seen.press("minus", "minus", "minus")
        assert "3 are begun" in seen.text()
        assert opened.sitting.state.total == total - 3 * A_WAVE

    run(tmp_path, drive)


def test_repeats_that_reach_a_length_are_taken_where_they_are_asked_for(tmp_path: Path) -> None:
    work, opened, _ = bench(tmp_path)
    long = work.otherwise().known.length_of(work.plan) * 1.5
    said, turns = work.otherwise().reach(f"{long:.0f} mm")
    assert turns is not None
    assert said.startswith(f"{turns.times} waves: about")
    assert turns.times in (8, 9)
    work.otherwise().take(turns)
    work = work.anew()
    assert work.plan.total == opened.sitting.state.total == turns.plan.total
    again, same = work.otherwise().reach(f"{long:.0f} mm")
    assert same is None
    assert again.endswith("That is what is planned.")


def test_another_order_moves_the_strands_on_the_board(tmp_path: Path) -> None:
    async def drive(seen: Screen, opened: OnBench) -> None:
        await seen.press("o")
        await seen.write("1 2 3")
        assert "each of the 6 strands once" in " ".join(seen.text().split())
        assert not opened.sitting.state.happenings
        await seen.press(*["backspace"] * 5)
        await seen.write("6 2-5 1")
        assert "in this order" in seen.text()
        (happening,) = opened.sitting.state.happenings
        assert happening.kind == "reordered"

    run(tmp_path, drive)


def test_a_cord_joined_in_is_counted_from_there(tmp_path: Path) -> None:
    work, opened, _ = bench(tmp_path)
    strand = work.otherwise().order()[1]
    assert "continues with a new cord" in work.otherwise().join(strand, "2 m, 5 cm")
    work = work.anew()
    left = {one.strand: one for one in work.cords()}[strand]
    assert left.now_mm == pytest.approx(1950)
    assert "takes the whole new cord" in work.otherwise().join(strand, "4 cm, 5 cm")
    assert len(opened.sitting.state.happenings) == 1


def test_a_piece_ends_early_and_goes_on_after_all(tmp_path: Path) -> None:
    async def drive(seen: Screen, opened: OnBench) -> None:
        total = opened.plan.total
        await seen.press("o", "up", "enter")
        assert "Finished: all 21 made" in seen.text()
        assert opened.sitting.state.finished
        await seen.press("o", "up", "enter")
        assert "The piece is open again." in seen.text()
        assert opened.sitting.state.total == total

    run(tmp_path, drive)


def test_a_piece_opened_again_follows_all_that_happened(tmp_path: Path) -> None:
    work, opened, clock = bench(tmp_path)
    work.otherwise().repeats(2)
    work = work.anew()
    first = work.otherwise().order()[0]
    work.otherwise().rest(first, f"{work.otherwise().known.rests[first].length_mm - 150:.0f} mm")
    again = BenchController(opened.plan, opened.sitting, clock, Keys())
    assert again.plan.total == opened.plan.total + 2 * A_WAVE
    assert again.plan == work.anew().plan
    assert not again.stale


def test_what_another_screen_has_changed_is_followed(tmp_path: Path) -> None:
    work, opened, clock = bench(tmp_path)
    other = BenchController(opened.plan, opened.sitting, clock, Keys())
    other.otherwise().repeats(1)
    assert work.stale
    assert work.anew().plan.total == opened.plan.total + A_WAVE


def test_the_page_says_what_falls_short_and_where(tmp_path: Path) -> None:
    """A strand that used far more than told: its row names the tie at which its cord ends."""
    work, _, _ = bench(tmp_path)
    first = work.otherwise().order()[0]
    rest = work.otherwise().known.rests[first].length_mm - 1.6 * work.plan.used_mm(first, work.done)
    asked = work.otherwise().rest(first, f"{rest:.0f} mm")
    assert isinstance(asked, MeasureQuestion)
    assert asked.answers[-1].key == KEEP
    assert "left, kept as measured" in asked.answers[-1].take()
    work = work.anew()
    lines = measure_lines(work.otherwise(), Inks(DARK), 70)
    said = " ".join(line.plain for line in lines)
    assert "reach its tail" in said
    assert "used up at tie" in said
