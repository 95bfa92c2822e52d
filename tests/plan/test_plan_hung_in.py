"""Cords hung in down the work begin where they are hung, whatever stands above them.

Common practice, no source: a cord is hung in where its first knot will be, so that nothing of it
lies beside the work that was there before.
"""

from typing import Any

import pytest
from examples import examples
from hypothesis import given
from hypothesis import strategies as st
from planned import REED, on_strands, planned, project

from coach.picture.compose import scene_of
from coach.plan.cord.cut_list import cut_list
from coach.plan.from_text import read_plan
from coach.plan.plan_model import Plan
from coach.plan.wording.advice import with_advice

COUNTS = (1, 20, 40)
CORDS = {"reed": REED, "clay": REED, "foam": REED}

MARGIN = "margin: 10 %"  # by risk, a piece with more to go wrong above is cut with more to spare


def hung_in(
    times: int, *, at: int, pieces: int = 1, onto: int = 0, fold: str = "middle", adds: int = 1
) -> list[str]:
    """Return work on four strands in which pieces come in below so many square knots."""
    held = f", onto: {onto}" if onto else ""
    add = f"add: [{pieces} clay], at: {at}{held}, fold: {fold}"
    return [
        f"knot: square knot, strands: 1-4, times: {times}",
        *[add] * adds,
        "knot: overhand knot, strands: all",
    ]


def added_mm(plan: Plan) -> list[float]:
    """Return what the strands of added pieces use, from the left."""
    return [
        plan.ledgers[strand].total_mm
        for strand in plan.finish
        if plan.strands[strand].origin == "added"
    ]


def loose(text: str) -> list[str]:
    codes = [problem.code for problem in with_advice(read_plan(text)).problems]
    return [code for code in codes if code in ("LOOSE", "FLOAT")]


ADDS = st.fixed_dictionaries({
    "at": st.integers(1, 5),
    "pieces": st.integers(1, 3),
    "onto": st.integers(0, 4),
    "fold": st.sampled_from(["middle", "none", "fit"]),
    "adds": st.integers(1, 3),
})  # fmt: skip


@examples(60)
@given(add=ADDS, mirror=st.sampled_from(["none", "all"]), closed=st.booleans())
def test_what_is_hung_in_needs_the_same_whatever_stands_above_it(
    add: dict[str, Any], mirror: str, closed: bool
) -> None:
    start = f"{{nest: [2 reed]{', round: yes' if closed else ''}}}"
    needs = []
    for times in COUNTS:
        work = hung_in(times, **add)
        text = project([f"use: m, mirror: {mirror}"], start, CORDS, {"m": work})
        assert loose(text) == []
        needs.append(added_mm(planned(text)))
    assert needs[0] == pytest.approx(needs[1])
    assert needs[0] == pytest.approx(needs[2])
    assert min(needs[0]) > 0


@examples(40)
@given(
    at=st.integers(1, 9),
    worked=st.sampled_from(["1-4", "3-6", "5-8"]),
    mirror=st.sampled_from(["none", "all"]),
)
def test_beside_strands_without_work_the_nearest_that_carries_some_tells_the_height(
    at: int, worked: str, mirror: str
) -> None:
    needs = []
    for times in COUNTS:
        work = [
            f"knot: square knot, strands: {worked}, times: {times}",
            f"add: [2 clay], at: {at}",
            f"knot: square knot, strands: {at}-{at + 3}",
        ]
        plan = on_strands(8, f"use: m, mirror: {mirror}", parts={"m": work})
        needs.append(added_mm(plan))
    assert needs[0] == pytest.approx(needs[1])
    assert needs[0] == pytest.approx(needs[2])


@pytest.mark.parametrize("mirror", ["none", "all", "every second"])
@pytest.mark.parametrize("at", [1, 3, 5])
def test_in_a_group_only_the_group_tells_the_height(at: int, mirror: str) -> None:
    """The group to the left is done, the one to the right not begun."""
    needs, ends = [], []
    for times in COUNTS:
        steps = ", ".join(f"{{{step}}}" for step in hung_in(times, at=at, pieces=2))
        plan = planned(
            project([f"each: 1-12 by 4, mirror: {mirror}, steps: [{steps}]"], "{hang: [6 reed]}")
        )
        alone = planned(project(hung_in(times, at=at, pieces=2)))
        needs.append(added_mm(plan))
        ends.append((plan.length_mm, alone.length_mm))
    assert needs[0] == pytest.approx(needs[1])
    assert needs[0] == pytest.approx(needs[2])
    assert all(length == pytest.approx(one_group) for length, one_group in ends)


def test_of_two_neighbours_the_lower_tells_the_height_or_the_one_that_it_is_hung_onto() -> None:
    short, long = (f"knot: square knot, strands: {s}" for s in ("1-4, times: 10", "5-8, times: 30"))
    knot = "knot: overhand knot, strands: 5-7"  # the new strands and the one right of them
    beside, onto_long, onto_short = (
        added_mm(on_strands(8, short, long, f"add: [clay], at: 5{onto}", knot))
        for onto in ("", ", onto: 5", ", onto: 4")
    )
    ends = [on_strands(8, work).length_mm for work in (short, long)]
    assert beside == pytest.approx(onto_long)
    assert onto_short == pytest.approx([used + ends[1] - ends[0] for used in onto_long])


def test_before_any_work_it_hangs_at_the_top() -> None:
    plan = planned(project(["add: [clay], at: 3", "knot: square knot, strands: 1-4"]))
    alone = planned(project(["knot: square knot, strands: 1-4"]))
    assert plan.length_mm == alone.length_mm


@pytest.mark.parametrize("at", [1, 3, 5])
def test_the_cut_does_not_grow_with_the_work_above(at: int) -> None:
    """Two cords beside four strands came to 37, 76, 117 cm below 1, 20, 40 square knots."""
    cuts = [
        next(cord for cord in cut_list(planned(project(hung_in(n, at=at, pieces=2), rest=MARGIN)))
             if cord.cord == "clay").cuts[0].cut_mm
        for n in COUNTS
    ]  # fmt: skip
    assert len(set(cuts)) == 1


@pytest.mark.parametrize("at", [1, 3, 5, 8])
def test_a_strand_taken_up_runs_to_where_the_work_has_got_beside_strands_without_work(
    at: int,
) -> None:
    work = [
        "lay aside: 1",
        "knot: square knot, strands: 1-4, times: 20",
        f"take up: c1.1a, at: {at}",
    ]
    plan = on_strands(8, *work)
    assert plan.ledgers[0].total_mm == pytest.approx(plan.length_mm)


def test_no_drawing_at_scale_lets_it_hang_from_the_top() -> None:
    plan = planned(project(hung_in(20, at=5, pieces=2)))
    knots_mm = plan.height_mm[20]
    added = [s for s in scene_of(plan).stretches() if plan.strands[s.strand].origin == "added"]
    assert added
    fold_mm = 3 * 2.0  # that stands above the first knot of pieces that are laid in
    assert all(y >= knots_mm - fold_mm for stretch in added for _, y in stretch.path)
