"""Plaits, turns, strands that come and go, and all steps without a knot."""

import pytest
from planned import finish, knots, names, on_strands, planned, project, tied, ties

from coach.plan.cord.cut_list import cut_list


@pytest.mark.parametrize("bundles", ["1-3", "[1-3, 4-5, 6-8]"])
def test_plait_by_length_keeps_the_order_and_is_one_count_without_a_tie(bundles: str) -> None:
    plan = on_strands(8, f"braid: {bundles}, length: 12 cm")
    assert (plan.total, knots(plan), finish(plan)) == (1, {}, list(range(1, 9)))
    assert plan.length_mm == pytest.approx(120)
    assert all(ledger.total_mm > 120 for ledger in plan.ledgers[:3])


def test_plait_by_crossings_moves_bundles_of_different_sizes_whole() -> None:
    plan = on_strands(8, "braid: [1-3, 4-5, 6-8], crossings: 2")
    assert ties(plan) == [("", [6, 7, 8], [4, 5]), ("", [1, 2, 3], [6, 7, 8])]
    assert finish(plan) == [6, 7, 8, 1, 2, 3, 4, 5]
    assert finish(on_strands(8, "braid: [1-3, 4-5, 6-8], crossings: 6")) == list(range(1, 9))


def test_plait_of_one_crossing_takes_the_outer_right_one_over_into_the_middle() -> None:
    assert ties(on_strands(3, "braid: 1-3, crossings: 1")) == [("", [3], [2])]


@pytest.mark.parametrize("around", ["3", "5", "pin"])
def test_turn_keeps_places_and_takes_cord(around: str) -> None:
    plan = on_strands(5, f"turn: 4, around: {around}")
    assert (plan.total, knots(plan), finish(plan)) == (1, {}, [1, 2, 3, 4, 5])
    assert [index for index, ledger in enumerate(plan.ledgers) if ledger.total_mm] == [3]


def test_cross_lists_the_new_order_by_old_positions() -> None:
    assert finish(on_strands(4, "cross: [3, 4, 1, 2]")) == [3, 4, 1, 2]
    assert finish(on_strands(5, "cross: [4, 2, 3]")) == [1, 4, 2, 3, 5]


def test_strand_that_crossed_over_others_runs_straight_to_its_next_tie() -> None:
    """Across and down, a lower bound: one column sideways is in the knots' own figures."""
    knot = "knot: overhand knot, strands: 5"
    far = on_strands(5, "cross: [2, 3, 4, 5, 1]", knot)
    near = on_strands(5, knot)
    sideways = far.ledgers[0].total_mm - near.ledgers[4].total_mm
    assert sideways == pytest.approx(3 * 2 * 0.78)


def test_strand_that_crossed_the_seam_has_not_run_round_the_work() -> None:
    work = "cross: [6, 7]", "knot: overhand knot, strands: 1"
    plan = on_strands(6, *work, closed=True)
    beside = on_strands(6, "cross: [1, 2]", "knot: overhand knot, strands: 1", closed=True)
    assert plan.ledgers[0].total_mm == beside.ledgers[0].total_mm
    over = on_strands(6, "cross: [7, 6]", "knot: overhand knot, strands: 1", closed=True)
    assert finish(over) == [6, 2, 3, 4, 5, 1]
    assert over.ledgers[5].total_mm == beside.ledgers[0].total_mm


def test_space_is_one_count_and_lengthens_only_what_it_names() -> None:
    plan = on_strands(8, "space: 3 cm, groups: 1-8 by 4", "space: 2 cm, strands: 1-2")
    assert (plan.total, knots(plan), plan.length_mm) == (2, {}, 50)
    assert [ledger.total_mm for ledger in plan.ledgers] == [50, 50, 30, 30, 30, 30, 30, 30]


def test_picot_takes_cord_and_no_height() -> None:
    plan = on_strands(3, "picot: 15 mm, strands: [1, 3]")
    assert [ledger.total_mm for ledger in plan.ledgers] == [15, 0, 15]
    assert (plan.total, plan.length_mm) == (1, 0)


def test_bead_is_as_high_as_it_is_long() -> None:
    plan = on_strands(4, "bead: 2-3, size: 8 mm")
    assert [ledger.total_mm for ledger in plan.ledgers] == [0, 8, 8, 0]
    assert (plan.total, plan.length_mm) == (1, 8)


@pytest.mark.parametrize(
    "step",
    [
        "do: Pin it.",
        "measure: length, expect: 7 cm",
        "measure: width",
        "wait: 10 min",
        "flip: piece",
    ],
)
def test_steps_without_a_knot_are_one_count_and_no_tie(step: str) -> None:
    plan = on_strands(2, step)
    assert (plan.total, knots(plan), plan.counts[0].knot) == (1, {}, "")
    assert {ledger.total_mm for ledger in plan.ledgers} == {0}


def test_flip_turns_the_order_over() -> None:
    assert finish(on_strands(4, "flip: piece")) == [4, 3, 2, 1]


def test_added_piece_stands_with_its_first_strand_at_the_place_named() -> None:
    work = ["add: [2 clay], at: 2, onto: 1, by: lark's head"]
    plan = planned(project(work, "{nest: [1 reed]}"))
    assert names(plan, plan.finish) == [
        "reed.1a", "clay.1a", "clay.1b", "clay.2a", "clay.2b", "reed.1b",
    ]  # fmt: skip
    assert plan.total == 1
    assert knots(plan) == {}
    end = planned(project(["add: [clay], at: 3"], "{nest: [1 reed]}"))
    assert names(end, end.finish) == ["reed.1a", "reed.1b", "clay.1a", "clay.1b"]


@pytest.mark.parametrize("by", ["lark's head", "reverse lark's head", "looped through", "pinned",
                                "laid in"])  # fmt: skip
def test_every_way_of_adding_has_its_cord(by: str) -> None:
    plan = planned(project([f'add: [clay], at: 2, onto: 1, by: "{by}"', "space: 1 cm"]))
    clay = next(cord for cord in cut_list(plan) if cord.cord == "clay")
    assert clay.cut_mm > 2 * (10 + 100)


def test_unfolded_piece_that_is_added_is_one_strand() -> None:
    plan = planned(project(["add: [clay], at: 1, fold: none"], "{nest: [1 reed]}"))
    assert names(plan, plan.finish) == ["clay.1a", "reed.1a", "reed.1b"]


def test_strand_laid_aside_is_in_no_all_until_it_is_taken_up() -> None:
    plan = on_strands(
        4, "lay aside: 2, leave: 12 cm", "knot: overhand knot, strands: all",
        "take up: c2.1a, at: 1", "knot: overhand knot, strands: all",
    )  # fmt: skip
    assert [tied(plan, count)[1] for count in plan.counts[1::2]] == [[1, 3, 4], [2, 1, 3, 4]]
    assert finish(plan) == [2, 1, 3, 4]
    assert plan.tail_mm == (100, 120, 100, 100)


def test_strand_taken_up_runs_down_to_where_the_work_has_got() -> None:
    plan = on_strands(3, "lay aside: 3", "space: 8 cm", "take up: c3.1a, at: 3")
    assert plan.ledgers[2].total_mm == pytest.approx(80)


def test_trim_raises_tails_along_a_line_to_the_middle() -> None:
    plan = on_strands(5, "trim: all, leave: 12 cm, middle: 20 cm")
    assert plan.tail_mm == pytest.approx((120, 160, 200, 160, 120))
    assert on_strands(2, "trim: all, leave: 1 cm").tail_mm == (100, 100)
