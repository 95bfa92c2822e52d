"""Every size of terminal shows what it must: the count in large figures, and what to do."""

from math import atan, degrees, hypot
from pathlib import Path

import pytest
from bench_pieces import Clock, knot, mixed_plan, on_bench, plan_of, row
from test_bench_screens import Bench, run

from coach.plan.from_text import read_plan
from coach.plan.plan_model import Plan
from coach.session.controller import BenchController
from coach.session.keymap import Keys
from coach.session.step_words import SIGNS, sign_for
from coach.tui.app import BenchApp
from coach.tui.layout.large_print import HEIGHTS, large_width, large_word
from coach.tui.layout.styled_text import Inks
from coach.tui.layout.work_layout import WorkLayout
from coach.tui.theme.palette import DARK
from coach.yaml_reader.file_loader import load

PROJECTS = Path(__file__).parents[2] / "projects"
BLOCKS = "█▀▄"

# A 14-inch screen of 1920 by 1080, and the lowest line that terminals come with: 16 pixels, a type
# of 10 points at 96 to the inch. Common practice, no source.
PIXEL_MM = 14 * 25.4 / hypot(1920, 1080)
LINE_MM = 16 * PIXEL_MM
NEEDED_MINUTES = 20  # preferred height of characters, ISO 9241-3 (quoted)


def minutes_of_arc(rows: float) -> float:
    """Return how high so many rows are seen from a metre away."""
    return 60 * degrees(atan(rows * LINE_MM / 1000))


def face_at(folder: Path, plan: Plan, done: int, size: tuple[int, int]) -> list[str]:
    """Return the lines of the bench without a terminal."""
    clock = Clock()
    work = BenchController(plan, on_bench(folder, plan, clock, done).sitting, clock, Keys())
    face = WorkLayout(plan, Inks(DARK).of(plan), Keys())
    return [line.text for line in face.lines(work.view(), *size)]


def figure_rows(lines: list[str], most: int) -> int:
    """Return how many lines the count takes: the first run with blocks in the first half."""
    tall = [any(c in BLOCKS for c in line[: most // 2]) for line in lines]
    first = tall.index(True)
    return [*tall[first:], False].index(False)


@pytest.mark.parametrize(
    ("size", "rows"),
    [((40, 12), 3), ((80, 24), 5), ((80, 30), 7), ((120, 40), 7), ((160, 40), 9), ((200, 50), 11)],
)
def test_the_count_is_read_at_a_metre(tmp_path: Path, size: tuple[int, int], rows: int) -> None:
    """At the usual size its figures are five lines high, 44 minutes of arc; never below 26."""
    lines = face_at(tmp_path, plan_of(row(1, range(2, 7))), 2, size)
    assert figure_rows(lines, size[0]) == rows
    assert minutes_of_arc(rows) > NEEDED_MINUTES
    assert round(minutes_of_arc(5)) == 44
    assert round(minutes_of_arc(min(HEIGHTS))) == 27


@pytest.mark.parametrize("times", [9, 99, 999, 1400])
@pytest.mark.parametrize("size", [(40, 12), (80, 24), (100, 30)])
def test_a_long_step_keeps_its_large_figures(
    tmp_path: Path, times: int, size: tuple[int, int]
) -> None:
    plan = plan_of(knot("half knot", (1, 2, 3, 4), times=times))
    lines = face_at(tmp_path, plan, times - 1, size)
    assert figure_rows(lines, size[0]) >= min(HEIGHTS)


@pytest.mark.parametrize("name", ["reed-keyring", "tide-band", "marsh-pot-hanger"])
def test_every_count_of_a_project_has_its_count_and_its_words(tmp_path: Path, name: str) -> None:
    """No line is wider than the terminal, and what to do begins on it, from the first on."""
    sizes = ((20, 6), (40, 12), (80, 24), (120, 40))
    plan = read_plan(load(PROJECTS / f"{name}.yaml").text or "").plan
    assert plan
    clock = Clock()
    work = BenchController(plan, on_bench(tmp_path, plan, clock).sitting, clock, Keys())
    faces = {size: WorkLayout(plan, Inks(DARK).of(plan), Keys()) for size in sizes}
    for done in range(plan.total):
        view = work.view()
        for size, face in faces.items():
            lines = [line.text for line in face.lines(view, *size)]
            assert [len(line) for line in lines] == [size[0]] * size[1]
            shown = " ".join(" ".join(lines).split())
            assert view.sentence.split()[0] in shown
            told = view.sign or f"{view.number} of {view.of}"
            assert any(c in shown for c in BLOCKS) or told in shown
        assert work.done == done
        clock.ms += 1000
        work.act("count")


def test_a_whole_piece_is_walked_at_forty_by_twelve(tmp_path: Path) -> None:
    clock = Clock()
    plan = mixed_plan()
    opened = on_bench(tmp_path, plan, clock, plan.total - 12)

    async def drive(seen: Bench) -> None:
        for done in range(plan.total - 11, plan.total + 1):
            await seen.press("space")
            assert opened.sitting.state.done == done
        assert "Finished" in seen.text()

    run(BenchApp(on_bench=opened, clock=clock), clock, drive, (40, 12))


def test_at_twenty_by_six_the_whole_sentence_shows(tmp_path: Path) -> None:
    """The large figures give way where the sentence would be cut at its end."""
    plan = plan_of(row(1, range(2, 7)))
    shown = " ".join(" ".join(face_at(tmp_path, plan, 2, (20, 6))).split())
    assert "3 of 5" in shown
    assert "now strand 4 (clay)." in shown
    short = plan_of(knot("overhand knot", (1, 2)), pieces=1)
    assert figure_rows(face_at(tmp_path, short, 0, (20, 6)), 20) == min(HEIGHTS)


def test_a_step_without_a_knot_shows_a_word_and_no_count(tmp_path: Path) -> None:
    plan = mixed_plan()
    words = {sign_for(plan, step) for step in plan.steps}
    assert {"SWAP", "GAP", ""} <= words
    gap = next(step for step in plan.steps if sign_for(plan, step) == "GAP")
    lines = face_at(tmp_path, plan, gap.first, (80, 24))
    assert large_word("GAP", 5)[0] in lines[3]
    assert " of " not in " ".join(line[:40] for line in lines[3:8])


def test_every_sign_of_a_step_can_be_written_and_is_as_wide_as_it_says() -> None:
    for word in SIGNS.values():
        for rows in (3, 5, 7):
            lines = large_word(word, rows)
            assert len(lines) == rows
            assert len(set(map(len, lines))) == 1
    assert large_width(1400, 3) + len(" of 1400") < 40
