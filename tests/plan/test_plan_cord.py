"""The ledgers, the heights, the cut list and what is left: what must hold of every plan."""

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

import pytest
from examples import examples
from hypothesis import given, settings
from hypothesis import strategies as st
from planned import REED, on_strands, planned, project, singles
from random_steps import INNER, parts

from coach.cli.reports.plan_page import render_plan
from coach.plan.compile.compiler import compile_project
from coach.plan.cord.cord_left import CordLeft
from coach.plan.cord.cut_list import cut_list, lengths_of, with_repeats
from coach.plan.doubt.cut_lengths import rounded_up, step_mm
from coach.plan.measure.calibration import MOST_HELD
from coach.plan.pieces import pieces_of
from coach.plan.plan_model import Plan
from coach.plan.tension import Hands
from coach.project.read import read_project
from coach.report.plan_report import report_of

WORK = st.integers(4, 8).flatmap(lambda n: st.tuples(st.just(n), parts(n)))
KNOTS = [
    "knot: square knot, groups: 1-8 by 4, times: 2",
    "row: clove hitch, holder: 1, across: 2-8",
    "row: reverse clove hitch, knotter: 8, across: 7-5",
    "knot: half knot, strands: 3-6, times: 5",
    "row: clove hitch, holder: 1, across: 2-5, lie: slant",
    "row: half hitch, holder: 8, across: 7-2, times: 2",
    "braid: 1-3, crossings: 7",
    "knot: barrel knot, knotter: 8, around: 6-7, turns: 3",
    "knot: overhand knot, strands: all",
]
"""Steps whose lengths all come from the cords."""


def random_plan(drawn: tuple[int, Any], rest: str = "") -> Plan:
    number, steps = drawn
    start, cords = singles(number)
    cords |= {"clay": REED, "reed": REED}
    return planned(project(steps, start, cords, {"inner": INNER}, rest))


@examples(80)
@given(WORK)
def test_ledgers_grow_from_nothing_to_their_total_and_count_their_ties(
    drawn: tuple[int, Any],
) -> None:
    plan = random_plan(drawn)
    for strand, ledger in enumerate(plan.ledgers):
        used = [ledger.used_after(done) for done in range(plan.total + 1)]
        assert used[0] == 0
        assert used == sorted(used)
        assert used[-1] == ledger.total_mm
        tied = [count for count in plan.counts if count.knot]
        assert plan.knotted[strand] == sum(strand in count.knotters for count in tied)
        assert plan.filled[strand] == sum(strand in count.fillers for count in tied)


@examples(80)
@given(WORK)
def test_counts_steps_and_heights_hang_together(drawn: tuple[int, Any]) -> None:
    plan = random_plan(drawn)
    assert len(plan.height_mm) == plan.total + 1
    assert list(plan.height_mm) == sorted(plan.height_mm)
    assert plan.height_mm[0] == 0
    at, before = 0, plan.start
    for step in plan.steps:
        assert (step.first, step.before) == (at, before)
        assert {plan.step_of(done).index for done in range(step.first, step.end)} == {step.index}
        at, before = step.end, step.after
    assert (at, before) == (plan.total, plan.finish)
    assert len(set(plan.finish)) == len(plan.finish)


@examples(40)
@given(WORK)
def test_every_piece_is_cut_long_enough_and_in_whole_steps(drawn: tuple[int, Any]) -> None:
    plan = random_plan(drawn, rest="margin: 10 %")
    lengths = lengths_of(cut_list(plan))
    for piece in pieces_of(plan):
        cut = lengths[piece.label]
        needs = [plan.ledgers[s].total_mm + plan.tail_mm[s] for s in piece.strands]
        assert cut >= len(needs) * max(needs) * 1.1 - 1e-6
        assert cut % step_mm(cut) == 0
    assert sum(cord.pieces for cord in cut_list(plan)) == len(pieces_of(plan))
    for done in (0, plan.total // 2, plan.total):
        for left in CordLeft(plan).at(done):
            assert not left.short
            assert left.now_low_mm <= left.now_high_mm
            assert left.end_low_mm <= left.now_low_mm


@settings(max_examples=20, deadline=None)
@given(WORK)
def test_plan_is_the_same_each_time(drawn: tuple[int, Any]) -> None:
    assert random_plan(drawn) == random_plan(drawn)


def test_cords_twice_as_thick_take_twice_the_cord_and_the_length() -> None:
    """Where no length is given in the file, all grows with the cord."""
    thin, thick = (
        planned(
            project(
                KNOTS,
                "{hang: [3 reed, clay]}",
                {
                    "reed": f"{{colour: green, fibre: cotton, diameter: {2 * by} mm}}",
                    "clay": f"{{colour: red, fibre: cotton, diameter: {3 * by} mm}}",
                },
            )
        )
        for by in (1, 2)
    )
    assert thick.length_mm == pytest.approx(2 * thin.length_mm)
    assert thick.width_mm == pytest.approx(2 * thin.width_mm)
    for one, other in zip(thin.ledgers, thick.ledgers, strict=True):
        assert one.total_mm > 0
        assert other.total_mm == pytest.approx(2 * one.total_mm)


def test_less_compressed_cord_counts_as_thicker_cord() -> None:
    reading = read_project(project(KNOTS, "{hang: [4 reed]}", {"reed": REED}))
    assert reading.project
    soft, hard = (compile_project(reading.project, Hands({"reed": by})).plan for by in (0.5, 1.0))
    assert soft
    assert hard
    assert hard.length_mm == pytest.approx(2 * soft.length_mm)


def test_level_row_is_as_high_as_one_tie_however_long_it_is() -> None:
    short, long = (
        on_strands(8, f"row: clove hitch, holder: 1, across: 2-{last}, lie: level")
        for last in (2, 8)
    )
    assert short.length_mm == pytest.approx(long.length_mm)


def test_slanting_row_runs_down_at_its_slope() -> None:
    """Geometry: the end is lower by the run along the row times the sine of the slope."""
    gentle, steep = (
        on_strands(8, f"row: clove hitch, holder: 1, across: 2-8, slope: {slope}°")
        for slope in (10, 60)
    )
    level = on_strands(8, "row: clove hitch, holder: 1, across: 2-8, lie: level")
    assert level.length_mm < gentle.length_mm < steep.length_mm
    assert level.width_mm > gentle.width_mm > steep.width_mm


def test_row_never_pulls_the_work_up() -> None:
    plan = on_strands(4, "space: 5 cm, strands: 4", "row: clove hitch, holder: 1, across: 2-4")
    assert plan.length_mm > 50
    assert plan.ledgers[0].total_mm > 50


def test_sennit_stands_higher_than_alternating_rows() -> None:
    """Square knots on the same strands 4.0 d apart, in alternating rows 2.62 d: worked out by
    tightening; d is the contact diameter, 0.78 of 2 mm."""
    sennit = on_strands(8, "knot: square knot, groups: 1-8 by 4, times: 10")
    net = on_strands(8, "net: 1-8 by 4, of: square knot, rows: 10")
    pitch = 2 * 0.78
    assert (sennit.height_mm[-1] - sennit.height_mm[1]) / 9 == pytest.approx(4.0 * pitch)
    rows = [net.height_mm[step.end] for step in net.steps]
    assert (rows[-1] - rows[0]) / 9 == pytest.approx(2.62 * pitch, rel=0.02)


def test_half_knots_in_a_run_turn_and_shorten() -> None:
    """Worked out by tightening: 2.0 d each in a flat sennit, 1.70 d in a spiral."""
    spiral = on_strands(4, "knot: half knot, strands: 1-4, times: 20")
    flat = on_strands(4, *["knot: half knot, strands: 1-4",
                           "knot: reverse half knot, strands: 1-4"] * 10)  # fmt: skip
    assert spiral.length_mm / flat.length_mm == pytest.approx(1.70 / 2.0, rel=0.03)


def measured(line: str, work: list[str], part: list[str]) -> Plan:
    return planned(
        project(work, "{nest: [reed, clay]}", parts={"m": part}, rest=f"measured: [{{{line}}}]")
    )


PART = ["knot: square knot, strands: 1-4, times: 2", "row: clove hitch, holder: 1, across: 2-4"]


def test_measured_part_outranks_the_model() -> None:
    line = "part: m, length: 16 mm, uses: {reed: 9 cm, clay: 6 cm}"
    plan = measured(line, ["use: m, times: 8, returns: after 4"], PART)
    assert plan.length_mm == pytest.approx(8 * 16)
    by_cord = {"reed": 0.0, "clay": 0.0}
    for strand, ledger in zip(plan.strands, plan.ledgers, strict=True):
        by_cord[strand.cord] += ledger.total_mm / 2 / 8
    assert by_cord == pytest.approx({"reed": 90, "clay": 60}, rel=0.005)


def test_measured_part_is_held_against_when_it_comes_very_often() -> None:
    """More repeats than are held against the measure get the same factor as those that are."""
    line = "part: m, length: 50 mm"
    often, seldom = (
        measured(line, [f"use: m, times: {times}, returns: after 4"], PART)
        for times in (MOST_HELD + 204, 8)
    )
    assert often.length_mm == pytest.approx((MOST_HELD + 204) * 50, rel=0.001)
    assert seldom.length_mm == pytest.approx(8 * 50, rel=0.001)


def test_measured_part_worked_before_the_fold_is_measured_laid_out() -> None:
    start = "{nest: [3 reed], before fold: [{use: m}]}"
    part = {"m": ["braid: 1-3, crossings: 12"]}
    rest = "measured: [{part: m, length: 5 cm}]"
    plan = planned(project(["do: Look."], start, parts=part, rest=rest))
    assert plan.length_mm == pytest.approx(25)


def test_swatch_outranks_the_model() -> None:
    line = "knot: square knot, cord: reed, times: 20, uses: 60 cm, length: 80 mm"
    plan = measured(line, ["use: m"], ["knot: square knot, strands: 1-4, times: 30"])
    assert plan.length_mm == pytest.approx(30 * 4)
    outer = [plan.ledgers[strand].total_mm for strand in (plan.start[0], plan.start[-1])]
    assert outer == pytest.approx([30 * 30] * 2)


def test_one_more_repeat_adds_what_a_longer_plan_takes() -> None:
    def cut(times: int) -> Plan:
        work = [f"use: m, times: {times}", "knot: overhand knot, strands: all"]
        part = {"m": ["knot: square knot, strands: 1-4, times: 4"]}
        return planned(project(work, parts=part, rest="margin: 10 %"))

    plan, longer = cut(5), cut(6)
    (told,) = with_repeats(cut_list(plan), plan)
    grown = [o.need_mm - p.need_mm for p, o in zip(pieces_of(plan), pieces_of(longer), strict=True)]
    assert told.per_repeat_mm == pytest.approx(1.1 * max(grown))
    assert told.per_repeat_mm > 0


def test_one_more_repeat_is_found_inside_groups_and_parts() -> None:
    named = {"arm": ["use: twist, times: 2"], "twist": ["knot: half knot, strands: 1-4, times: 4"]}
    text = project(
        ["each: 1-8 by 4, steps: [{use: arm}, {use: twist}]"], "{hang: [4 reed]}", parts=named,
        rest="size: {vary: twist}\nmargin: 10 %",
    )  # fmt: skip
    plan = planned(text)
    (told,) = with_repeats(cut_list(plan), plan)
    once = planned(project(["knot: half knot, strands: 1-4, times: 4"]))
    outer = max(ledger.total_mm for ledger in once.ledgers)
    # The arm twists twice more in all: once by the part, once by the group's own step.
    assert told.per_repeat_mm == pytest.approx(2 * 2 * outer * 1.1, rel=0.02)


def test_repeats_that_go_in_pairs_are_told_for_one() -> None:
    text = project(
        ["use: m, times: 4, mirror: every second"],
        parts={"m": ["knot: square knot, strands: 1-4"]}, rest="margin: 10 %",
    )  # fmt: skip
    plan = planned(text)
    single = planned(project(["knot: square knot, strands: 1-4"]))
    (told,) = with_repeats(cut_list(plan), plan)
    outer = single.ledgers[single.start[0]].total_mm
    assert told.per_repeat_mm == pytest.approx(2 * outer * 1.1, rel=0.02)


def test_what_one_more_takes_of_work_in_mirrored_pairs_is_half_of_a_pair() -> None:
    """A pair stays a pair: one alone would be worked on the strands of one side only."""

    def band(times: int) -> Plan:
        return planned(
            project(
                [f"use: m, times: {times}, mirror: every second"],
                "{hang: [4 reed]}",
                parts={"m": ["knot: square knot, strands: 1-4"]},
                rest="margin: 10 %",
            )
        )

    plan, one_more, pair_more = band(4), band(5), band(6)
    (told,) = with_repeats(cut_list(plan), plan)
    needs = [{p.number: p.need_mm for p in pieces_of(p)} for p in (plan, one_more, pair_more)]
    single, pair = ([more[n] - needs[0][n] for n in more] for more in needs[1:])
    assert told.per_repeat_mm == pytest.approx(1.1 * max(pair) / 2)
    assert max(single) > 1.2 * max(pair) / 2, "the two ways would be told apart"


def test_cord_left_falls_to_the_tail_and_more_and_names_the_worst_first() -> None:
    plan = planned(project(["knot: square knot, strands: 1-4, times: 9", "space: 3 cm"]))
    cords = CordLeft(plan, shares=dict.fromkeys(range(len(plan.strands)), 500.0))
    worst = [left.strand for left in cords.at(0)]
    assert set(worst[:2]) == {plan.start[0], plan.start[-1]}
    now = [next(left for left in cords.at(done) if left.strand == worst[0]).now_low_mm
           for done in range(plan.total + 1)]  # fmt: skip
    assert now == sorted(now, reverse=True)
    (end,) = (left for left in cords.at(plan.total) if left.strand == worst[0])
    assert (end.now_low_mm, end.now_high_mm) == (end.end_low_mm, end.end_high_mm)
    assert end.end_low_mm > plan.tail_mm[worst[0]] - 100


def test_strand_cut_too_short_is_named_with_the_tie_at_which_it_runs_out() -> None:
    plan = planned(project(["knot: square knot, strands: 1-4, times: 40"], "{nest: [2 reed]}"))
    (cord,) = cut_list(plan)
    short = replace(cord, cuts=tuple(replace(cut, cut_mm=1500) for cut in cord.cuts))
    outer = plan.start[0]
    (left,) = (left for left in CordLeft(plan, (short,)).at(0) if left.strand == outer)
    assert left.short
    assert left.runs_out_at is not None
    hangs = 750 - pieces_of(plan)[0].around_mm / 2
    used = [plan.used_mm(outer, left.runs_out_at + made) for made in (0, 1)]
    assert used[0] <= hangs - 100 < used[1]


def test_margin_is_added_to_every_cut() -> None:
    plans = [planned(project(["space: 90 cm"], rest=f"margin: {margin} %")) for margin in (0, 50)]
    need = max(piece.need_mm for piece in pieces_of(plans[0]))
    cuts = [cut_list(plan)[0].cut_mm for plan in plans]
    assert cuts == [rounded_up(need), rounded_up(1.5 * need)]


WRAPPED = "knot: gathering knot, wrap: clay, around: all, length: 2 cm"


@pytest.mark.parametrize(
    ("work", "step", "new", "says"),
    [
        ([WRAPPED], "", 1, "each extra bay takes 1 more length of"),
        ([WRAPPED, WRAPPED], "", 2, "each extra bay takes 2 more lengths of"),
        ([WRAPPED], ", step: 2", 2, "every 2 extra bays take 2 more lengths of"),
        (["knot: square knot, strands: 1-4, with: clay"], "", 1, "1 more length of"),
        (["add: [clay], at: 1, fold: none", "lay aside: 1"], "", 1, "1 more length of"),
    ],
)
def test_repeats_that_bring_in_pieces_say_so(
    work: Sequence[str], step: str, new: int, says: str
) -> None:
    """Pieces that come with a repeat are no longer with another one: there are more of them."""
    cords = {"reed": REED, "clay": REED}
    after = ["use: bay, times: 3", "knot: gathering knot, wrap: clay, around: 1-4, length: 5 mm"]
    part = {"bay": ["knot: square knot, strands: 1-4", *work]}
    plan = planned(project(
        after, "{hang: [2 reed]}", cords, part, f"margin: 10 %\nsize: {{vary: bay{step}}}"
    ))  # fmt: skip
    reed, clay = with_repeats(cut_list(plan), plan)
    assert (reed.new, len(clay.new)) == ((), new)
    assert reed.per_repeat_mm > 0
    lengths = {cut.cut_mm for cut in clay.cuts}
    assert set(clay.new) <= lengths, "as long as those that are there already"
    assert clay.per_repeat_mm == pytest.approx(sum(clay.new) / clay.new_every)
    told = "\n".join(render_plan(report_of(plan, one_more=True)))
    assert says in " ".join(told.split())
