"""A part worked mirrored is the mirror image of the part worked on the mirrored board."""

from typing import Any

import pytest
from examples import examples
from hypothesis import given
from hypothesis import strategies as st
from planned import REED, SINGLE, finish, knots, names, on_strands, planned, project, singles, ties
from random_steps import INNER, parts

from coach.knots.names import FLAT_KNOTS, mirror_image
from coach.plan.plan_model import Count, Plan, PlannedStep

MOST = 9


def worked(steps: list[str], number: int, *, mirrored: bool, uses: str = "mirror: all") -> Plan:
    """Return a part worked mirrored, or plainly with all strands hung the other way round."""
    cords = singles(number)[1] | {"clay": REED}
    order = list(cords)[:number]
    start = f"{{strands: [{', '.join(order if mirrored else order[::-1])}]}}"
    use = f"use: motif, {uses}" if mirrored else "use: motif"
    return planned(project([use], start, cords, {"motif": steps, "inner": INNER}))


def told(plan: Plan, count: Count, *, seen_in_mirror: bool = False) -> tuple[Any, ...]:
    """Return a count by the names of its strands, as it is or as it is seen in a mirror."""
    knotters = names(plan, count.knotters)
    if count.knot in FLAT_KNOTS and seen_in_mirror:
        knotters = knotters[::-1]
    if count.knot not in FLAT_KNOTS:
        knotters = sorted(knotters)
    knot = mirror_image(count.knot) if seen_in_mirror else count.knot
    return knot, knotters, sorted(names(plan, count.fillers)), count.passes


def the_other_way(step: PlannedStep) -> str:
    return {"right": "left", "left": "right", "": ""}[step.direction]


@examples(150)
@given(st.integers(4, MOST).flatmap(lambda n: st.tuples(st.just(n), parts(n))))
def test_mirrored_part_is_the_mirror_image_of_its_plain_working(drawn: tuple[int, Any]) -> None:
    number, steps = drawn
    mirrored = worked(steps, number, mirrored=True)
    plain = worked(steps, number, mirrored=False)
    assert names(mirrored, mirrored.finish) == names(plain, plain.finish)[::-1]
    for one, other in zip(mirrored.steps, plain.steps, strict=True):
        assert names(mirrored, one.before) == names(plain, other.before)[::-1]
        assert one.direction == the_other_way(other)
        assert one.mirrored != other.mirrored
    for one, other in zip(mirrored.counts, plain.counts, strict=True):
        assert told(mirrored, one) == told(plain, other, seen_in_mirror=True)
    assert mirrored.length_mm == pytest.approx(plain.length_mm)
    by_id = {strand.id: ledger.total_mm for strand, ledger in
             zip(plain.strands, plain.ledgers, strict=True)}  # fmt: skip
    for strand, ledger in zip(mirrored.strands, mirrored.ledgers, strict=True):
        assert ledger.total_mm == pytest.approx(by_id[strand.id])


@examples(60)
@given(st.integers(4, MOST).flatmap(lambda n: st.tuples(st.just(n), parts(n))))
def test_part_mirrored_within_a_mirrored_part_is_plain_again(drawn: tuple[int, Any]) -> None:
    number, steps = drawn
    start, cords = singles(number)
    cords |= {"clay": REED}
    named = {"motif": steps, "inner": INNER, "about": ["use: motif, mirror: all"]}
    twice = planned(project(["use: about, mirror: all"], start, cords, named))
    plain = planned(project(["use: motif"], start, cords, named))
    assert twice.finish == plain.finish
    assert twice.counts == plain.counts
    assert [s.groups for s in twice.steps] == [s.groups for s in plain.steps]


def test_row_goes_the_other_way_from_the_other_side() -> None:
    """p becomes n + 1 - p: 1 across 2-3 of five becomes 5 across 4-3."""
    plan = on_strands(
        5, "use: m, mirror: all", parts={"m": ["row: clove hitch, holder: 1, across: 2-3"]}
    )
    assert finish(plan) == [1, 2, 5, 3, 4]
    assert ties(plan) == [("clove hitch", [4], [5]), ("clove hitch", [3], [5])]
    assert plan.steps[0].direction == "left"


def test_groups_are_worked_from_the_right_and_told_from_the_left() -> None:
    part = {"m": ["knot: half knot, groups: 1-8 by 4, times: 2"]}
    plan = on_strands(8, "use: m, mirror: all", parts=part)
    assert ties(plan) == [
        ("reverse half knot", [5, 8], [6, 7]),
        ("reverse half knot", [8, 5], [6, 7]),
        ("reverse half knot", [1, 4], [2, 3]),
        ("reverse half knot", [4, 1], [2, 3]),
    ]


def test_ties_are_counted_under_the_name_that_is_really_tied() -> None:
    part = {"m": ["knot: half knot, strands: 1-4", "knot: square knot, strands: 1-4"]}
    plan = on_strands(4, "use: m, times: 5, mirror: every second", parts=part)
    assert knots(plan) == {
        "half knot": 3, "reverse half knot": 2, "square knot": 3, "reverse square knot": 2,
    }  # fmt: skip


def test_alternation_starts_anew_at_each_use() -> None:
    use = "use: m, times: 3, mirror: every second"
    plan = on_strands(4, use, use, parts={"m": ["knot: half knot, strands: 1-4"]})
    assert [step.mirrored for step in plan.steps] == [False, True, False] * 2


def test_added_pieces_go_to_their_place_in_the_mirror_in_reverse_order() -> None:
    """Strands m = 3 at p = 2 on n = 4: at n + 2 - p = 4 and then from there to the right."""
    cords = singles(4)[1] | dict.fromkeys(("x", "y", "z"), SINGLE)
    part = {"m": ["add: [x, y, z], at: 2", "row: clove hitch, holder: 1, across: 2"]}
    start = singles(4)[0]
    plan = planned(project(["use: m, mirror: all"], start, cords, part))
    added = names(plan, plan.steps[0].after)
    assert added == ["c1.1a", "c2.1a", "c3.1a", "z.1a", "y.1a", "x.1a", "c4.1a"]
    assert names(plan, plan.finish)[-2:] == ["c4.1a", "x.1a"]


def test_folded_piece_added_in_the_mirror_has_its_end_a_at_the_left() -> None:
    cords = singles(2)[1] | {"clay": REED}
    part = {"m": ["add: [2 clay], at: 1"]}
    plan = planned(project(["use: m, mirror: all"], singles(2)[0], cords, part))
    assert names(plan, plan.finish) == [
        "c1.1a",
        "c2.1a",
        "clay.2a",
        "clay.2b",
        "clay.1a",
        "clay.1b",
    ]


def test_strand_laid_aside_and_taken_up_goes_to_its_place_in_the_mirror() -> None:
    part = {"m": ["lay aside: 1", "take up: c4.1a, at: 2"]}
    plan = on_strands(4, "use: m, mirror: all", parts=part)
    assert [names(plan, step.after) for step in plan.steps] == [
        ["c1.1a", "c2.1a", "c3.1a"],
        ["c1.1a", "c2.1a", "c4.1a", "c3.1a"],
    ]


def test_chain_and_plait_begin_on_the_other_side() -> None:
    part = {"m": ["knot: half hitch chain, strands: 1-2, times: 3", "braid: 1-3, crossings: 2"]}
    plan = on_strands(4, "use: m, mirror: all", parts=part)
    hitch = "half hitch chain"
    assert ties(plan)[:3] == [(hitch, [4], [3]), (hitch, [3], [4]), (hitch, [4], [3])]
    assert ties(plan)[3:] == [("", [2], [3]), ("", [4], [2])]
    assert finish(plan) == [1, 3, 4, 2]


def test_positions_in_the_mirror_count_the_strands_of_each_step() -> None:
    """After one is laid aside there are fewer to count from: 1 is the last again."""
    part = {"m": ["lay aside: 1", "row: clove hitch, holder: 1, across: 2"]}
    plan = on_strands(4, "use: m, mirror: all", parts=part)
    assert finish(plan) == [1, 3, 2]
