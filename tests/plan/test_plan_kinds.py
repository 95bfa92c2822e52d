"""Every kind of step: order, ties, counts, passes and what it does to the length."""

import pytest
from planned import (
    finish,
    knots,
    names,
    on_strands,
    passes,
    places,
    ties,
)

from coach.plan.cord.cut_list import cut_list

CLOVE, REVERSE = "clove hitch", "reverse clove hitch"


@pytest.mark.parametrize(
    ("knot", "role", "holds"),
    [
        ("clove hitch", "holder", True),
        ("half hitch", "holder", True),
        ("lark's head", "holder", True),
        ("reverse clove hitch", "knotter", False),
        ("vertical lark's head", "knotter", False),
        ("half hitch", "knotter", False),
    ],
)
def test_strand_that_travels_holds_or_knots(knot: str, role: str, holds: bool) -> None:
    plan = on_strands(4, f'row: "{knot}", {role}: 2, across: 3-4')
    pairs = [(knotters, fillers) for _, knotters, fillers in ties(plan)]
    assert pairs == ([([3], [2]), ([4], [2])] if holds else [([2], [3]), ([2], [4])])
    assert finish(plan) == [1, 3, 4, 2]
    assert plan.steps[0].direction == "right"


def test_row_with_times_ties_each_one_so_often() -> None:
    plan = on_strands(3, "row: clove hitch, holder: 3, across: 2-1, times: 2")
    assert ties(plan) == [(CLOVE, [2], [3])] * 2 + [(CLOVE, [1], [3])] * 2
    assert finish(plan) == [3, 1, 2]
    assert passes(plan) == 8


def test_row_across_all_goes_to_the_other_edge() -> None:
    assert finish(on_strands(4, "row: clove hitch, holder: 4, across: all")) == [4, 1, 2, 3]


def test_weave_changes_who_knots_with_the_picture() -> None:
    work = "weave: 1, across: 2-6, knots: [2 clove hitch, 1 reverse clove hitch, 2 clove hitch]"
    plan = on_strands(6, work)
    assert ties(plan) == [
        (CLOVE, [2], [1]), (CLOVE, [3], [1]), (REVERSE, [1], [4]), (CLOVE, [5], [1]),
        (CLOVE, [6], [1]),
    ]  # fmt: skip
    assert finish(plan) == [2, 3, 4, 5, 6, 1]
    assert (plan.steps[0].role, plan.steps[0].counts) == ("weave", 5)


@pytest.mark.parametrize("knot", ["square knot", "reverse square knot"])
def test_square_knots_put_the_strands_back(knot: str) -> None:
    plan = on_strands(8, f"knot: {knot}, groups: 1-8 by 4, times: 3")
    assert finish(plan) == list(range(1, 9))
    assert ties(plan) == [(knot, [1, 4], [2, 3])] * 3 + [(knot, [5, 8], [6, 7])] * 3
    assert passes(plan) == 12


@pytest.mark.parametrize("knot", ["half knot", "reverse half knot"])
def test_half_knots_exchange_the_outer_two_each_time(knot: str) -> None:
    plan = on_strands(5, f"knot: {knot}, strands: 2-5, times: 3")
    assert ties(plan) == [
        (knot, [2, 5], [3, 4]), (knot, [5, 2], [3, 4]), (knot, [2, 5], [3, 4]),
    ]  # fmt: skip
    assert finish(plan) == [1, 5, 3, 4, 2]
    assert finish(on_strands(5, f"knot: {knot}, strands: 2-5, times: 4")) == [1, 2, 3, 4, 5]


def test_two_strands_can_knot_with_none_between_them() -> None:
    plan = on_strands(2, "knot: square knot, strands: 1-2, times: 4")
    assert ties(plan)[0] == ("square knot", [1, 2], [])
    assert plan.ledgers[0].total_mm > plan.length_mm > 0


def test_sliding_clasp_is_a_separate_middled_piece_round_all_the_strands() -> None:
    plan = on_strands(4, "knot: square knot, strands: 1-4, with: reed, times: 5")
    assert finish(plan) == [1, 2, 3, 4]
    count = plan.counts[0]
    assert names(plan, count.knotters) == ["reed.1a", "reed.1b"]
    assert places(plan, count.fillers) == [1, 2, 3, 4]
    assert knots(plan) == {"square knot": 5}
    clasp = next(cord for cord in cut_list(plan) if cord.cord == "reed")
    assert [(cut.origin, cut.pieces) for cut in clasp.cuts] == [("clasp", 1)]
    assert clasp.cut_mm > 2 * (plan.ledgers[count.knotters[0]].total_mm + 100)


def test_half_knots_of_a_clasp_leave_the_strands_alone() -> None:
    assert finish(on_strands(4, "knot: half knot, strands: 1-4, with: reed")) == [1, 2, 3, 4]


@pytest.mark.parametrize(
    ("knot", "turns"), [("lark's head", 2), ("reverse lark's head", 2), ("half hitch", 1),
                        ("clove hitch", 2), ("reverse clove hitch", 2)]
)  # fmt: skip
def test_strand_knotted_round_others_leaves_all_in_place(knot: str, turns: int) -> None:
    plan = on_strands(3, f'knot: "{knot}", knotter: 3, around: 1-2, times: 6')
    assert ties(plan) == [(knot, [3], [1, 2])] * 6
    assert finish(plan) == [1, 2, 3]
    assert passes(plan) == 6 * turns
    assert (plan.knotted, plan.filled) == ({2: 6}, {0: 6, 1: 6})


def test_chain_is_hitched_in_turn_the_left_one_first() -> None:
    plan = on_strands(2, "knot: half hitch chain, strands: 1-2, times: 3")
    chain = "half hitch chain"
    assert ties(plan) == [(chain, [1], [2]), (chain, [2], [1]), (chain, [1], [2])]
    assert finish(plan) == [1, 2]


def test_josephine_knot_keeps_places_and_all_its_strands_knot() -> None:
    plan = on_strands(4, "knot: double coin knot, strands: 1-4")
    assert ties(plan) == [("josephine knot", [1, 2, 3, 4], [])]
    assert finish(plan) == [1, 2, 3, 4]
    assert set(plan.knotted.values()) == {1}


@pytest.mark.parametrize(("knot", "turns"), [("overhand knot", 1), ("double overhand knot", 2)])
def test_bundle_is_knotted_on_itself(knot: str, turns: int) -> None:
    plan = on_strands(4, f"knot: {knot}, strands: 2-4")
    assert ties(plan) == [(knot, [2, 3, 4], [])]
    assert passes(plan) == turns


def test_barrel_knot_round_a_bundle_and_on_itself() -> None:
    plan = on_strands(
        3, "knot: barrel knot, knotter: 3, around: 1-2, turns: 4",
        "knot: barrel knot, strands: 1, turns: 3",
    )  # fmt: skip
    assert ties(plan) == [("barrel knot", [3], [1, 2]), ("barrel knot", [1], [])]
    assert [count.passes for count in plan.counts] == [4, 3]
    assert finish(plan) == [1, 2, 3]


def test_gathering_knot_takes_a_wrap_that_joins_the_cut_list_and_keeps_the_order() -> None:
    plan = on_strands(4, "knot: gathering knot, wrap: clay, around: all, length: 3 cm")
    (count,) = plan.counts
    assert names(plan, count.knotters) == ["clay.1a"]
    assert places(plan, count.fillers) == [1, 2, 3, 4]
    assert finish(plan) == [1, 2, 3, 4]
    assert plan.length_mm == pytest.approx(30)
    clay = next(cord for cord in cut_list(plan) if cord.cord == "clay")
    assert (clay.pieces, clay.cuts[0].origin) == (1, "wrap")


@pytest.mark.parametrize(
    ("step", "pieces"),
    [
        ("knot: gathering knot, wrap: clay, around: all, length: 3 cm", 3),
        ("knot: square knot, groups: 1-4 by 2, with: clay", 6),
    ],
)
def test_each_repeat_and_group_takes_a_piece_of_its_own(step: str, pieces: int) -> None:
    plan = on_strands(4, "use: m, times: 3", parts={"m": [step]})
    assert len({count.knotters for count in plan.counts}) == pieces
    clay = next(cord for cord in cut_list(plan) if cord.cord == "clay")
    assert clay.pieces == pieces


def test_berry_knot_is_one_tie_with_one_more_square_knot_that_locks() -> None:
    plan = on_strands(8, "knot: bobble, groups: 1-8 by 4, of: 3")
    assert ties(plan) == [("berry knot", [1, 4], [2, 3]), ("berry knot", [5, 8], [6, 7])]
    assert passes(plan) == 2 * 2 * (3 + 1)
    assert finish(plan) == list(range(1, 9))


def rows_of(plan_text: str, number: int = 12, *, closed: bool = False) -> list[list[list[int]]]:
    """Return the groups of each row of a net, by places."""
    plan = on_strands(number, plan_text, closed=closed)
    return [[places(plan, group) for group in step.groups] for step in plan.steps]


def first_of(rows: list[list[list[int]]]) -> list[list[int]]:
    """Return where the groups of each row begin."""
    return [[group[0] for group in row] for row in rows]


def test_even_net_keeps_its_side_strands() -> None:
    rows = rows_of("net: 1-12 by 4, of: square knot, rows: 3")
    assert first_of(rows) == [[1, 5, 9], [3, 7], [1, 5, 9]]
    assert rows[1] == [[3, 4, 5, 6], [7, 8, 9, 10]]


def test_narrowing_net_drops_half_a_group_a_side_each_row() -> None:
    rows = rows_of("net: 1-12 by 4, of: square knot, rows: 3, sides: narrow")
    assert first_of(rows) == [[1, 5, 9], [3, 7], [5]]


def test_widening_net_grows_by_half_a_group_a_side_each_row() -> None:
    rows = rows_of("net: 5-8 by 4, of: square knot, rows: 3, sides: widen")
    assert first_of(rows) == [[5], [3, 7], [1, 5, 9]]


def test_net_rows_count_one_step_each_and_the_gap_lengthens_the_work() -> None:
    tight = on_strands(8, "net: 1-8 by 4, of: square knot, rows: 4")
    loose = on_strands(8, "net: 1-8 by 4, of: square knot, rows: 4, gap: 1 cm")
    assert [step.net_row for step in tight.steps] == [1, 2, 3, 4]
    assert knots(tight) == {"square knot": 6}
    assert loose.length_mm - tight.length_mm == pytest.approx(30)


def test_net_of_half_knots_counts_positions_anew_in_each_row() -> None:
    plan = on_strands(4, "net: 1-4 by 2, of: half knot, rows: 2")
    assert ties(plan) == [
        ("half knot", [1, 2], []), ("half knot", [3, 4], []), ("half knot", [1, 4], []),
    ]  # fmt: skip
    assert finish(plan) == [2, 4, 1, 3]
