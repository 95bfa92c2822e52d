"""A measure that surprises is asked about, on the bench and in plain lines; one key settles it."""

from pathlib import Path

import pytest
from test_bench_measure import A_WAVE, Screen, bench, run

from coach.piece.events import Measured
from coach.plain_ui.walk import PlainWalk
from coach.session.adjusting.measure_questions import KEEP, MeasureQuestion
from coach.session.controller import BenchController
from coach.session.keymap import Keys
from coach.session.ports import OnBench

HALF = 3 * A_WAVE


def right_rest(work: BenchController) -> tuple[int, float]:
    """Return the first strand, and what it should have left."""
    first = work.otherwise().order()[0]
    return first, work.otherwise().known.rests[first].length_mm - work.plan.used_mm(first, HALF)


def measures(opened: OnBench) -> list[Measured]:
    return [h for h in opened.sitting.state.happenings if isinstance(h, Measured)]


@pytest.mark.parametrize("size", [(40, 12), (80, 24), (120, 40)])
def test_one_key_on_the_bench_corrects_inches(tmp_path: Path, size: tuple[int, int]) -> None:
    async def drive(seen: Screen, opened: OnBench) -> None:
        height = opened.plan.height_mm[HALF]
        await seen.press("m")
        await seen.write(f"{height / 25.4:.2f} cm")
        said = " ".join(seen.text().split())
        assert "is a surprise:" in said
        assert "1 it was read in inches:" in said
        assert max(map(len, seen.text().splitlines())) <= size[0]
        assert not measures(opened), "nothing is put down before the answer"
        await seen.press("1")
        (kept,) = measures(opened)
        assert kept.length_mm == pytest.approx(height, rel=0.02)
        assert kept.doubt == 0

    run(tmp_path, drive, size)


def test_escape_goes_back_to_the_line_and_measures_again(tmp_path: Path) -> None:
    async def drive(seen: Screen, opened: OnBench) -> None:
        height = opened.plan.height_mm[HALF]
        await seen.press("m")
        await seen.write(f"{height / 25.4:.2f} cm")
        await seen.press("x", "escape")
        assert not measures(opened)
        assert "length, relaxed (" in seen.text()

    run(tmp_path, drive)


def test_half_as_long_again_is_kept_by_one_key_and_weighs_little(tmp_path: Path) -> None:
    async def drive(seen: Screen, opened: OnBench) -> None:
        before = opened.plan.length_mm
        await seen.press("m")
        await seen.write(f"{opened.plan.height_mm[HALF] * 1.5:.0f} mm")
        assert "k it is as measured: keep it" in " ".join(seen.text().split())
        await seen.press(KEEP)
        (kept,) = measures(opened)
        assert kept.doubt >= 3
        work = BenchController(opened.plan, opened.sitting, seen.clock, Keys())
        assert work.plan.length_mm < 1.25 * before

    run(tmp_path, drive)


@pytest.mark.parametrize(
    ("spoilt", "label"),
    [
        (lambda mm: mm / 2.54, "read in inches"),
        (lambda mm: mm / 10, "decimal point slipped"),
    ],
)
def test_plain_lines_ask_and_take_the_answer(
    tmp_path: Path, spoilt: "type[float]", label: str
) -> None:
    work, opened, _ = bench(tmp_path)
    _, rest = right_rest(work)
    walk = PlainWalk(work)
    lines = walk.answer(f"measure 1 {spoilt(rest):.1f} mm")
    assert "is a surprise:" in lines[0]
    (key,) = [line.split()[1] for line in lines if label in line]
    assert not measures(opened)
    assert "left." in walk.answer(key)[0]
    (kept,) = measures(opened)
    assert kept.length_mm == pytest.approx(rest, abs=1.5)
    assert opened.sitting.state.done == HALF, "an answer is no count"


def test_enter_alone_leaves_a_questioned_measure_out_and_counts_nothing(tmp_path: Path) -> None:
    work, opened, _ = bench(tmp_path)
    walk = PlainWalk(work)
    walk.answer(f"measure length {work.plan.height_mm[HALF] / 25.4:.2f} cm")
    assert walk.answer("") == ["Left out; measure again when you like."]
    assert not measures(opened)
    assert opened.sitting.state.done == HALF
    walk.answer("")
    assert opened.sitting.state.done == HALF + 1


def test_more_cord_than_a_strand_hung_with_can_be_corrected_but_not_kept(tmp_path: Path) -> None:
    work, _, _ = bench(tmp_path)
    first, rest = right_rest(work)
    asked = work.otherwise().rest(first, f"{rest * 2.54:.0f} mm")
    assert isinstance(asked, MeasureQuestion)
    assert asked.answer("1")
    assert asked.answer(KEEP) is None


def test_what_is_likely_is_put_down_without_a_question(tmp_path: Path) -> None:
    work, opened, _ = bench(tmp_path)
    first, rest = right_rest(work)
    assert isinstance(work.otherwise().rest(first, f"{rest + 5:.0f} mm"), str)
    assert len(measures(opened)) == 1
