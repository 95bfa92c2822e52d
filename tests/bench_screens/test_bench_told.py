"""Strands, gaps and short cord are told alike on the screen, in plain lines and in speech."""

import asyncio
import re
from collections.abc import Iterator, Mapping
from dataclasses import replace
from pathlib import Path

import pytest
from bench_pieces import (
    ABOUT,
    SPAN,
    Clock,
    at,
    groups,
    knot,
    mixed_plan,
    on_bench,
    plan_of,
    restless_plan,
    row,
)

from coach.plain_ui.walk import PlainWalk
from coach.plan.board_at_count import order_at
from coach.plan.cord.cord_left import CordLeft
from coach.plan.plan_model import Plan
from coach.project import model
from coach.session.announcer import Spoken
from coach.session.controller import BenchController
from coach.session.count_mode import PassStore
from coach.session.keymap import Keys
from coach.session.ports import Aids
from coach.session.view_model import warning
from coach.settings.overrides import Kept
from coach.settings.settings import Settings
from coach.tui.app import BenchApp
from coach.tui.layout.cord_summary import cord_names
from coach.tui.layout.styled_text import Inks
from coach.tui.layout.work_layout import WorkLayout
from coach.tui.pages.measure_page import measure_lines
from coach.tui.pages.plan_pages import cord_lines
from coach.tui.screens.deviations_screen import measure_screen, otherwise_screen
from coach.tui.theme.palette import DARK

SIZES = ((80, 24), (120, 40), (40, 12))


def asided_plan() -> Plan:
    """Return a plan in which strands are laid aside and taken up, and new ones are hung."""
    return plan_of(
        row(1, (2, 3)),
        model.LayAside(ABOUT, at(2, 5)),
        knot("square knot", (1, 2, 3, 4), times=2),
        model.Add(ABOUT, (model.ListedPiece("rush", SPAN),), at(3), at(2), "lark's head"),
        model.TakeUp(ABOUT, ("clay.1a", "rush.1a"), at(1)),
        knot("overhand knot", (1, 2, 3)),
    )


def net_plan() -> Plan:
    """Return a net of three rows two centimetres apart."""
    return plan_of(
        model.Net(ABOUT, groups((1, 2, 3, 4), (5, 6, 7, 8)), "square knot", 3, gap_mm=20.0),
        pieces=4,
    )


def work_on(
    folder: Path, plan: Plan, done: int = 0, *, share: float = 1.0
) -> tuple[BenchController, Clock]:
    """Return a piece on the bench, every strand cut to a share of its length."""
    clock = Clock()
    aids = Aids(kept=Kept(Settings()), passes=PassStore(folder))
    work = BenchController(
        plan, on_bench(folder, plan, clock, done).sitting, clock, Keys(), aids=aids
    )
    shares = {s: share * rest.length_mm for s, rest in work.otherwise().known.rests.items()}
    work._following.__dict__["cord_left"] = CordLeft(plan, shares=shares)
    return work, clock


def texts_of(work: BenchController, faces: Mapping[tuple[int, int], WorkLayout]) -> Iterator[str]:
    """Yield all that the bench tells at a count: screens, pages, plain lines and speech."""
    view, inks, plan = work.view(), Inks(DARK).of(work.plan), work.plan
    otherwise = work.otherwise()
    for size, face in faces.items():
        yield from (line.text for line in face.lines(view, *size))
    yield from (line.plain for line in cord_lines(plan, inks, work.cords(), work.order(), 77))
    yield from (line.plain for line in measure_lines(otherwise, inks, 77))
    for screen in (measure_screen(otherwise, inks), otherwise_screen(otherwise, inks)):
        yield from (choice.label for choice in screen._choices)
    yield from (Spoken(plan, 1).words(view), Spoken(plan, 1).again(view))
    walk = PlainWalk(work)
    for word in ("say", "strands", "cords", "next", "ahead 99"):
        yield from walk.answer(word)
    for place in ("1", "2"):
        for wrong in (f"measure {place} 9 m", f"measure {place} 0 cm", f"measure {place} 1 mm",
                      f"join {place} 0 m", f"join {place} 5 cm, 9 cm"):  # fmt: skip
            yield from walk.answer(wrong)


@pytest.mark.parametrize("make", [mixed_plan, restless_plan, asided_plan])
@pytest.mark.parametrize("share", [0.3, 1.0])
def test_no_strand_is_told_by_an_end_that_the_board_does_not_show(
    tmp_path: Path, make: type[Plan], share: float
) -> None:
    """The names of ends are for files, JSON and cutting labels."""
    plan = make()
    ends = {strand.id for strand in plan.strands}
    work, clock = work_on(tmp_path, plan, share=share)
    faces = {size: WorkLayout(plan, Inks(DARK).of(plan), Keys()) for size in SIZES}
    for done in range(plan.total):
        assert work.done == done
        told = " ".join(texts_of(work, faces))
        assert not ends & set(re.findall(r"[a-z]+\.\d+[ab]", told))
        clock.ms += 1000
        work.act("count")


@pytest.mark.parametrize("make", [mixed_plan, restless_plan, asided_plan])
def test_every_name_in_the_cord_list_is_that_of_its_strand_on_the_board(
    tmp_path: Path, make: type[Plan]
) -> None:
    plan = make()
    work, clock = work_on(tmp_path, plan)
    inks = Inks(DARK).of(plan)
    for done in range(plan.total):
        order, cords = order_at(plan, done), work.cords()
        rows = cord_lines(plan, inks, cords, order, 77)[3 : 3 + len(cords)]
        for line, left in zip(rows, cords, strict=True):
            named = re.match(r"strand (\d+) \((\w+)\)", line.plain)
            assert named, line.plain
            assert order[int(named[1]) - 1] == left.strand
            assert plan.strands[left.strand].cord == named[2]
        view = work.view()
        columns = cord_names(plan, view)
        assert [order[int(name.split()[0]) - 1] for name in columns] == [
            left.strand for left in view.cords
        ]
        clock.ms += 1000
        work.act("count")


def test_notes_of_a_step_are_told_everywhere_at_its_start(tmp_path: Path) -> None:
    """What the file notes and what the maker does, on the bench, in plain lines and aloud."""
    noted = replace(row(2, (3, 4)), about=model.About(SPAN, note="Keep it level"))
    work, _ = work_on(tmp_path, plan_of(noted, row(2, (1,))))
    work.asides.note(work.done, "Rub it with wax")
    view = work.view()
    face = WorkLayout(work.plan, Inks(DARK).of(work.plan), Keys()).lines(view, 80, 24)
    speech, plain = Spoken(work.plan, 0), PlainWalk(work).answer("say")
    for told in (" ".join(line.text for line in face), speech.words(view), " ".join(plain)):
        assert "Rub it with wax." in told
        assert "Keep it level" in told
    assert "Keep it level." in speech.again(view)
    assert speech.words(view) == "", "once"


def test_a_measure_to_take_says_how_it_is_written_down(tmp_path: Path) -> None:
    work, clock = work_on(tmp_path, plan_of(row(2, (1,)), model.Measure(ABOUT, "length")))
    clock.ms += 1000
    assert "writes it down" not in work.view().offer
    work.act("count")
    assert work.view().offer == "m writes it down."


def test_a_warning_names_the_strand_as_the_sentence_does(tmp_path: Path) -> None:
    plan = plan_of(row(2, (3, 4)), row(2, (1,)))
    work, _ = work_on(tmp_path, plan, share=0.01)
    view = work.view()
    assert warning(plan, view).startswith("Strand 2 (reed) will not reach")
    assert "Hold strand 2 (reed) to the right" in view.sentence
    for lines in (PlainWalk(work).answer("say"), [Spoken(plan, 0).words(view)]):
        assert "Strand 2 (reed) will not reach" in " ".join(lines)


@pytest.mark.parametrize("size", [(40, 12), (80, 24), (120, 40)])
def test_a_short_strand_is_marked_on_the_board(tmp_path: Path, size: tuple[int, int]) -> None:
    """Below its number a sign stands for its initial; where all reach there is none."""
    plan = plan_of(row(2, (3, 4)), row(2, (1,)))
    for share, marked in ((0.01, True), (3.0, False)):
        work, _ = work_on(tmp_path / str(share), plan, share=share)
        view = work.view()
        lines = [
            line.text for line in WorkLayout(plan, Inks(DARK).of(plan), Keys()).lines(view, *size)
        ]
        below = [place for place, line in enumerate(lines) if re.search(r"1 +2 +3 +4", line)][-1]
        numbers, letters = lines[below : below + 2]
        signs = {view.order[int(numbers[m.start()]) - 1] for m in re.finditer("!", letters)}
        assert signs == {left.strand for left in view.short if left.strand in view.order}
        assert bool(signs) == marked


def test_a_strand_that_is_short_before_it_is_hung_is_told_so(tmp_path: Path) -> None:
    plan = asided_plan()
    work, _ = work_on(tmp_path, plan)
    added = next(s for s, strand in enumerate(plan.strands) if strand.origin == "added")
    shares = {s: rest.length_mm for s, rest in work.otherwise().known.rests.items()}
    work._following.__dict__["cord_left"] = CordLeft(plan, shares=shares | {added: 10.0})
    assert warning(plan, work.view()).startswith("The rush strand still to be hung will")
    assert added not in {left.strand for left in work.view().cords}


def test_each_strand_that_gets_short_is_spoken_by_its_own_name(tmp_path: Path) -> None:
    """A second one is not told by the name of the first, which was told before."""
    work, _ = work_on(tmp_path, plan_of(row(1, (2, 3, 4))), share=1.0)
    view = work.view()
    first, second = (replace(left, short=True, runs_out_at=2) for left in view.cords[:2])
    spoken = Spoken(work.plan, 0)
    assert "Strand 1 (reed) will not reach" in spoken.words(replace(view, short=(first,)))
    both = spoken.words(replace(view, short=(first, second)))
    assert both.startswith("Strand 2 (reed) will not reach")


@pytest.mark.parametrize(("units", "gap"), [("cm", "2 cm"), ("in", "13/16 in")])
def test_the_gap_of_a_net_is_told_wherever_its_row_is(tmp_path: Path, units: str, gap: str) -> None:
    """On the screen before the row and in it, in plain lines, and aloud; in the maker's units."""
    work, clock = work_on(tmp_path, net_plan(), 1)
    if units == "in":
        work.act("units")
    assert f"after a {gap} gap below the row above" in work.view().next
    walk = PlainWalk(work)
    assert f"after a {gap} gap" in walk.answer("next")[0]
    assert f"after a {gap} gap" in walk.answer("ahead")[1]
    clock.ms += 1000
    said = f"Leave a {gap} gap below the row above. Square knot"
    assert said in " ".join(walk.answer(""))
    view = work.view()
    assert said in Spoken(work.plan, 0).words(view)
    for size in SIZES:
        lines = WorkLayout(work.plan, Inks(DARK).of(work.plan), Keys()).lines(view, *size)
        assert f"Leave a {gap} gap" in " ".join(" ".join(line.text for line in lines).split())


def test_the_page_of_cord_left_shows_what_hangs(tmp_path: Path) -> None:
    plan = asided_plan()
    clock = Clock()
    app = BenchApp(on_bench=on_bench(tmp_path, plan, clock, 3), clock=clock)

    async def go() -> str:
        async with app.run_test(size=(80, 24)) as pilot:
            await pilot.press("c")
            await pilot.pause()
            return "\n".join(strip.text for strip in app.screen._compositor.render_strips())

    shown = asyncio.run(go())
    assert re.findall(r"strand (\d) \(\w+\)", shown) == ["4", "1", "3", "2"]  # knotters, fillers
    assert "laid aside, are left out" in shown
