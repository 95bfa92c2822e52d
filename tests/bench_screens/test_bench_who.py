"""Who ties, onto what and which way stands in large figures beside the count."""

from dataclasses import replace
from pathlib import Path

import pytest
from bench_pieces import Clock, knot, mixed_plan, on_bench, plan_of, restless_plan, row
from rich.text import Text

from coach.plan.board_at_count import order_at
from coach.plan.from_text import read_plan
from coach.plan.plan_model import Plan
from coach.plan.wording.who_ties import Who, who_ties
from coach.project import model
from coach.session.controller import BenchController
from coach.session.keymap import Keys
from coach.session.step_words import StepWords
from coach.settings.overrides import Kept
from coach.settings.settings import Settings
from coach.tui.layout.large_print import HEIGHTS, large
from coach.tui.layout.styled_text import Inks
from coach.tui.layout.who_lines import who_lines
from coach.tui.layout.work_layout import WorkLayout
from coach.tui.theme.palette import DARK
from coach.yaml_reader.file_loader import load

PROJECTS = sorted((Path(__file__).parents[2] / "projects").glob("*.yaml"))
NOBODY = (model.Do, model.Measure, model.Wait, model.Flip)


def told(plan: Plan, done: int) -> str:
    return " ".join(part.text for part in who_ties(plan, done))


def plans() -> list[Plan]:
    read = [read_plan(load(path).text or "").plan for path in PROJECTS]
    assert read
    return [mixed_plan(), restless_plan(), *(plan for plan in read if plan)]


def test_it_says_who_onto_what_and_which_way() -> None:
    """The first four are those that the design was tried with."""
    plan = plan_of(
        row(6, (5, 4)), row(1, (2, 3), holds=False), knot("square knot", (1, 2, 3, 4)),
        model.Braid(model.About(row(1, (2,)).about.span), knot("x", (1,), (2,), (3,)).groups,
                    crossings=2),
        knot("half knot", (1, 2, 3)), knot("reverse square knot", (1, 2, 3, 4)),
        knot("overhand knot", (1, 2, 3, 4, 5, 6)), knot("josephine knot", (1, 2, 3, 4)),
    )  # fmt: skip
    assert [told(plan, done) for done in range(plan.total)] == [
        "5 onto 6 ◂ leftwards", "4 onto 5 ◂ leftwards",
        "1 round 2 ▸ rightwards", "2 round 3 ▸ rightwards",
        "1 first over 2 3 then 4",
        "3 over 2", "1 over 2",
        "1 over 2 under 3", "4 first over 2 3 then 1",
        "1 to 6 as one", "1 2 with 3 4",
    ]  # fmt: skip


def test_every_kind_of_step_says_it_with_the_numbers_that_the_board_shows() -> None:
    for plan in plans():
        for done in range(plan.total):
            parts, step = who_ties(plan, done), plan.step_of(done)
            assert bool(parts) == (not isinstance(step.source, NOBODY)), plan.project.title
            coming = isinstance(step.source, model.Add | model.TakeUp)
            order = step.after if coming else order_at(plan, done)
            for part in parts:
                if part.large:
                    assert order[int(part.text) - 1] == part.strand
                elif part.strand is not None:
                    assert part.text == plan.strands[part.strand].cord


def test_who_ties_and_what_is_tied_round_are_all_named() -> None:
    """A run of more than three is named by its ends."""
    for plan in plans():
        for done, count in enumerate(plan.counts):
            if not count.knot:
                continue
            named = {part.strand for part in who_ties(plan, done)}
            for strands in (count.knotters, count.fillers):
                assert len(strands) > 3 or set(strands) <= named or named & set(strands)
                assert not strands or {strands[0], strands[-1]} & named


def test_lengths_in_it_are_in_the_makers_units() -> None:
    plan = mixed_plan()
    gap = next(step for step in plan.steps if isinstance(step.source, model.Space))
    inches = StepWords(plan, Kept(Settings(units="in"))).who(gap.first)
    assert [part.text for part in inches] == ["1", "to", "6", "gap of 1 3/16 in"]


def test_its_figures_are_in_the_strands_colours_and_stand_apart() -> None:
    plan = plan_of(row(6, (5, 4)))
    inks = Inks(DARK).of(plan)
    parts = who_ties(plan, 0)
    lines = who_lines(parts, inks, 60, 3)
    assert len(lines) == 3
    for y, line in enumerate(lines):
        for part in (part for part in parts if part.large):
            drawn = large(int(part.text), 3)[y]
            styles = [style for at, end, style in line.spans if line.plain[at:end] == drawn]
            assert part.strand is not None
            assert inks.named(part.strand, bold=True) in styles
    two = who_lines((Who("2", 0), Who("3", 1)), inks, 60, 3)
    together = Text("\n").join(two).plain
    assert together != "\n".join(large(23, 3))


@pytest.mark.parametrize(
    ("width", "rows", "lines"), [(60, 7, 7), (60, 5, 5), (30, 7, 3), (22, 7, 1), (5, 7, 0)]
)
def test_it_is_as_large_as_fits(width: int, rows: int, lines: int) -> None:
    plan = plan_of(row(6, (5, 4)))
    drawn = who_lines(who_ties(plan, 0), Inks(DARK).of(plan), width, rows)
    assert len(drawn) == lines
    assert all(line.cell_len <= width for line in drawn)


@pytest.mark.parametrize(
    ("size", "rows"), [((80, 24), 3), ((120, 40), 5), ((160, 40), 7), ((200, 50), 9)]
)
def test_the_bench_shows_it_beside_the_count_and_grows_with_the_screen(
    tmp_path: Path, size: tuple[int, int], rows: int
) -> None:
    plan = plan_of(row(6, (5, 4)))
    work = BenchController(plan, on_bench(tmp_path, plan, Clock()).sitting, Clock(), Keys())
    lines = [
        line.text
        for line in WorkLayout(plan, Inks(DARK).of(plan), Keys()).lines(work.view(), *size)
    ]
    for y, figure in enumerate(large(5, rows)):
        assert figure in lines[3 + y]
    assert "onto" in lines[2 + rows]
    assert "◂ leftwards" in lines[2 + rows]
    assert any("Hold strand 6 (rush) to the left." in line for line in lines[3 + rows :])


def test_a_long_sentence_makes_room_for_it_and_is_whole_below(tmp_path: Path) -> None:
    """Twelve strands and a knot of two names: four lines beside the count, of which it has five."""
    plan = plan_of(replace(row(1, range(2, 13), holds=False), first="over"), pieces=6)
    work = BenchController(plan, on_bench(tmp_path, plan, Clock()).sitting, Clock(), Keys())
    lines = [
        line.text
        for line in WorkLayout(plan, Inks(DARK).of(plan), Keys()).lines(work.view(), 80, 23)
    ]
    assert all(figure in line for figure, line in zip(large(2, 5), lines[3:], strict=False))
    assert work.view().sentence in " ".join(" ".join(lines).split())


def test_what_came_of_a_key_is_told_below_it(tmp_path: Path) -> None:
    plan = plan_of(row(6, (5, 4)))
    work = BenchController(plan, on_bench(tmp_path, plan, Clock()).sitting, Clock(), Keys())
    work.act("take_back")
    lines = WorkLayout(plan, Inks(DARK).of(plan), Keys()).lines(work.view(), 80, 24)
    assert any("Nothing is made yet." in line.text for line in lines)


def test_a_one_is_no_bar_a_seven_no_hook_and_a_nought_no_letter() -> None:
    for rows in HEIGHTS:
        one, seven, nought = (large(figure, rows) for figure in (1, 7, 0))
        assert len(set(one)) > 1, "a bar is the same all the way down"
        ends = [len(line.rstrip()) for line in seven]
        assert ends[0] > ends[-1], "its stem slants"
        if rows > 6:
            assert nought[rows // 2] != nought[2], "it has a dot"
