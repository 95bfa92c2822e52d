"""Steps on each group, and work in the round."""

import pytest
from planned import fault, finish, names, on_strands, places, planned, project, singles, ties

from coach.plan.wording.place_words import place_in_piece

ROW = "row: clove hitch, holder: 1, across: 2-4"


def each(groups: str, *steps: str, mirror: str = "none") -> str:
    """Return an `each` step."""
    return f"each: {groups}, mirror: {mirror}, steps: [{', '.join(f'{{{s}}}' for s in steps)}]"


def test_positions_inside_a_group_are_its_own() -> None:
    plan = on_strands(8, each("1-8 by 4", ROW))
    assert finish(plan) == [2, 3, 4, 1, 6, 7, 8, 5]
    assert [step.trail[-1].turn for step in plan.steps] == [1, 2]


def test_all_steps_are_worked_on_a_group_before_the_next() -> None:
    plan = on_strands(8, each("1-8 by 4", "knot: half knot, strands: 1-4", "space: 1 cm"))
    assert [count.knot for count in plan.counts] == ["half knot", "", "half knot", ""]


@pytest.mark.parametrize(
    ("mirror", "order"),
    [
        ("none", [2, 3, 4, 1, 6, 7, 8, 5]),
        ("all", [4, 1, 2, 3, 8, 5, 6, 7]),
        ("every second", [2, 3, 4, 1, 8, 5, 6, 7]),
    ],
)
def test_groups_are_mirrored_all_or_every_second(mirror: str, order: list[int]) -> None:
    assert finish(on_strands(8, each("1-8 by 4", ROW, mirror=mirror))) == order


def test_groups_are_taken_once_as_the_strands_stand_at_the_start() -> None:
    """The first group gains a strand; the second is still that of 5 to 8."""
    plan = planned(
        project(
            [each("[1-4, 5-8]", "add: [clay], at: 1, fold: none", "knot: half knot, strands: 1-5")],
            singles(8)[0],
            singles(8)[1] | {"clay": "{colour: red, fibre: cotton, diameter: 2 mm}"},
        )
    )
    assert names(plan, plan.finish) == [
        "c4.1a", "c1.1a", "c2.1a", "c3.1a", "clay.1a",
        "c8.1a", "c5.1a", "c6.1a", "c7.1a", "clay.2a",
    ]  # fmt: skip


def test_strand_laid_aside_in_a_group_lets_the_group_close_up() -> None:
    work = each("1-8 by 4", "lay aside: 2", "row: clove hitch, holder: 1, across: 2-3")
    assert finish(on_strands(8, work)) == [3, 4, 1, 7, 8, 5]


def test_groups_may_have_gaps_but_no_row_crosses_them() -> None:
    plan = on_strands(6, each("[[1, 2, 5, 6]]", "row: clove hitch, holder: 1, across: 2"))
    assert finish(plan) == [2, 1, 3, 4, 5, 6]
    start, cords = singles(6)
    found = fault(project([each("[[1, 2, 5, 6]]", ROW)], start, cords))
    assert found.code == "NEIGHBOURS"
    assert "c3.1a stands at 3" in found.message


def test_knots_may_be_tied_with_the_strands_on_both_sides_of_a_gap() -> None:
    plan = on_strands(6, each("[[1, 2, 5, 6]]", "knot: half knot, strands: 1-4"))
    assert ties(plan) == [("half knot", [1, 6], [2, 5])]
    assert finish(plan) == [6, 2, 3, 4, 5, 1]


def test_groups_within_groups_count_inside_each_other() -> None:
    inner = each("1-4 by 2", "row: clove hitch, holder: 1, across: 2", mirror="every second")
    plan = on_strands(8, each("1-8 by 4", inner, mirror="every second"))
    assert [step.direction for step in plan.steps] == ["right", "left", "left", "right"]
    assert [places(plan, step.groups[0]) for step in plan.steps] == [[1, 2], [4, 3], [8, 7], [5, 6]]
    assert finish(plan) == [2, 1, 4, 3, 6, 5, 8, 7]
    assert place_in_piece(plan, 3)[:2] == ("group 2 of 2, mirrored", "group 2 of 2")


def test_work_is_not_turned_over_inside_a_group() -> None:
    start, cords = singles(4)
    assert fault(project([each("1-4 by 2", "flip: piece")], start, cords)).code == "FLIP"
    turning = {"m": ["flip: piece"]}
    found = fault(project([each("1-4 by 2", "use: m")], start, cords, turning))
    assert found.code == "FLIP"


def test_groups_of_one_step_never_share_a_strand() -> None:
    start, cords = singles(6)
    assert fault(project(["knot: square knot, groups: [1-4, 4-6]"], start, cords)).code == "GROUPS"
    closed = start[:-1] + ", round: yes}"
    found = fault(project(["knot: square knot, groups: 1-8 by 4"], closed, cords))
    assert (found.code, "at 1 is named twice" in found.message) == ("TWICE", True)


def test_bundles_of_a_plait_never_share_a_strand_over_the_seam() -> None:
    text = project(["braid: 2-4, crossings: 5"], "{nest: [reed], round: yes}")
    assert fault(text).code == "TWICE"


def test_groups_go_over_the_seam_of_round_work() -> None:
    plan = on_strands(16, "knot: half knot, groups: 3-18 by 4", closed=True)
    assert ties(plan)[-1] == ("half knot", [15, 2], [16, 1])
    assert finish(plan) == [1, 15, 6, 4, 5, 3, 10, 8, 9, 7, 14, 12, 13, 11, 2, 16]


def test_each_group_over_the_seam_works_its_rows_over_it() -> None:
    plan = on_strands(8, each("3-10 by 4", ROW), closed=True)
    assert places(plan, plan.steps[1].groups[0]) == [7, 8, 1, 2]
    assert finish(plan) == [2, 7, 4, 5, 6, 3, 8, 1]


def test_row_over_the_seam() -> None:
    plan = on_strands(6, "row: clove hitch, holder: 5, across: 6-8", closed=True)
    assert places(plan, plan.steps[0].groups[0]) == [5, 6, 1, 2]
    assert (finish(plan), plan.steps[0].direction) == ([2, 5, 3, 4, 6, 1], "right")
    back = on_strands(6, "row: clove hitch, holder: 7, across: 6-5", closed=True)
    assert (places(back, back.steps[0].groups[0]), back.steps[0].direction) == ([1, 6, 5], "left")


def test_position_beyond_the_last_is_counted_on_from_the_first() -> None:
    one, other = (
        on_strands(6, f"row: clove hitch, holder: {at}, across: {over}", closed=True)
        for at, over in ((1, "2-3"), (7, "8-9"))
    )
    assert one.finish == other.finish
    assert one.counts == other.counts


def test_seam_counts_anew_and_nobody_moves_a_cord() -> None:
    plan = on_strands(6, "seam: 3", "row: clove hitch, holder: 1, across: 2", closed=True)
    assert places(plan, plan.steps[0].after) == [3, 4, 5, 6, 1, 2]
    assert finish(plan) == [4, 3, 5, 6, 1, 2]
    assert plan.ledgers[5].total_mm == 0


def test_seam_needs_round_work() -> None:
    start, cords = singles(4)
    assert fault(project(["seam: 3"], start, cords)).code == "PLACE"


def test_net_closed_in_the_round_has_all_groups_in_every_row() -> None:
    plan = on_strands(12, "net: 1-12 by 4, of: square knot, rows: 4", closed=True)
    assert [step.counts for step in plan.steps] == [3, 3, 3, 3]
    assert [places(plan, group) for group in plan.steps[1].groups] == [
        [3, 4, 5, 6], [7, 8, 9, 10], [11, 12, 1, 2],
    ]  # fmt: skip
    assert plan.knotted.total() == 24


def test_turn_over_the_seam_has_its_neighbour_on_either_side() -> None:
    for turn in ("turn: 6, around: 7", "turn: 6, around: 1", "turn: 1, around: 6"):
        assert on_strands(6, turn, closed=True).total == 1
