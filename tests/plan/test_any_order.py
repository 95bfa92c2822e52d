"""Groups in any order: whichever is worked next, the same piece and the same totals."""

from collections import Counter
from itertools import pairwise, permutations

import pytest
from examples import examples
from hypothesis import given
from hypothesis import strategies as st
from planned import MIXED, fault, planned, project
from random_steps import still_steps

from coach.picture.compose import scene_of
from coach.plan.board_at_count import order_at
from coach.plan.group_order import Arm, arms_at, can_leave, with_group_picked
from coach.plan.plan_model import Plan
from coach.plan.wording.place_words import place_in_piece
from coach.plan.wording.sentences import step_sentence
from coach.plan.wording.who_ties import who_ties

GROUPS = 3
SENNITS = [
    "knot: half knot, strands: all, times: 5",
    "row: clove hitch, holder: 1, across: 2-4, times: 2",
    "add: [clay], at: 2, fold: none",
    "braid: 2-4, crossings: 5",
    "knot: square knot, groups: [1-2, 3-5], times: 2",
    "lay aside: 3",
    "knot: gathering knot, wrap: clay, around: all, length: 1 cm",
]


def hanger(inner: list[str], mirror: str = "none") -> Plan:
    """Return a plan of three groups of four in any order, work before them and after."""
    steps = ", ".join(f"{{{step}}}" for step in inner)
    work = [
        "row: clove hitch, holder: 1, across: 2-12",
        f"each: 1-12 by 4, order: any, mirror: {mirror}, steps: [{steps}]",
        "knot: overhand knot, strands: all",
    ]
    return planned(project(work, "{hang: [6 reed]}", MIXED))


def ties_of(plan: Plan, number: int) -> list[object]:
    """Return the counts of one group in the order in which they are made."""
    steps = [step for step in plan.steps if step.arm == Arm(1, number)]
    return [count for step in steps for count in plan.counts[step.first : step.end]]


def is_same_piece(was: Plan, now: Plan) -> None:
    assert Counter(now.counts) == Counter(was.counts)
    assert (now.total, now.finish) == (was.total, was.finish)
    assert now.length_mm == pytest.approx(was.length_mm)
    assert now.width_mm == was.width_mm
    for one, other in zip(was.ledgers, now.ledgers, strict=True):
        assert other.total_mm == pytest.approx(one.total_mm)
    for number in range(1, GROUPS + 1):
        assert ties_of(now, number) == ties_of(was, number)
    for before, after in pairwise(now.steps):
        assert before.after == after.before
        assert before.end == after.first
    assert sum(step.counts for step in now.steps) == now.total


@examples(40)
@given(
    still_steps(4),
    st.sampled_from(["none", "all", "every second"]),
    st.lists(st.tuples(st.floats(0, 1), st.integers(1, GROUPS)), max_size=6),
)
def test_any_switching_ends_in_the_same_piece_and_totals(
    inner: list[str], mirror: str, switches: list[tuple[float, int]]
) -> None:
    switched(hanger(inner, mirror), switches)


@pytest.mark.parametrize("order", list(permutations(range(1, GROUPS + 1))))
def test_any_order_of_whole_groups_does(order: tuple[int, ...]) -> None:
    """All orders there are, by the library's permutations; strands come and go in each group."""
    plan = hanger(SENNITS)
    of = arms_at(plan, 11)[0].of
    now = plan
    for place, number in enumerate(order):
        now = with_group_picked(now, 11 + place * of, Arm(1, number)) or now
    assert [step.arm for step in now.steps if step.arm][:: len(SENNITS)] == [
        Arm(1, number) for number in order
    ]
    is_same_piece(plan, now)
    tops = [sorted(tie.y_mm for tie in scene_of(one).ties) for one in (now, plan)]
    assert tops[0] == pytest.approx(tops[1])


def switched(plan: Plan, switches: list[tuple[float, int]]) -> Plan:
    """Switch at these places, in the midst of steps too; what is made stays as it was."""
    now, done = plan, 0
    for share, number in switches:
        done += int(share * (plan.total - done))
        after = with_group_picked(now, done, Arm(1, number))
        if after is None:
            continue
        assert after.counts[:done] == now.counts[:done]
        assert order_at(after, done) == order_at(now, done)
        assert all(len(s.groups) for s in after.steps if s.counts > 1)
        now = after
    is_same_piece(plan, now)
    for place in range(now.total + 1):
        assert step_sentence(now, place)
        assert who_ties(now, place) or place == now.total
    return now


def test_a_group_left_in_the_midst_of_a_step_keeps_its_count() -> None:
    plan = hanger(SENNITS)
    now = with_group_picked(plan, 14, Arm(1, 3))
    assert now
    assert [(arm.made, arm.of) for arm in arms_at(now, 16)] == [(3, 23), (0, 23), (2, 23)]
    assert place_in_piece(now, 16)[-2:] == ("group 3 of 3, 2 of 23 made", "step 1 of 7")
    back = with_group_picked(now, 16, Arm(1, 1))
    step = back and back.step_at(16)
    assert step
    assert (step.earlier, step.counts, step.of) == (3, 2, 5)
    assert step_sentence(back or plan, 16) == step_sentence(plan, 14)
    assert back
    for strand in plan.start[1:4]:  # of group 1
        assert back.used_mm(strand, 16) == pytest.approx(plan.used_mm(strand, 14))


def test_two_hitches_of_one_strand_are_not_left_halfway() -> None:
    plan = hanger(SENNITS)
    step = plan.step_at(17)
    assert step
    assert [can_leave(step, done) for done in (16, 17, 18)] == [True, False, True]
    assert with_group_picked(plan, 17, Arm(1, 2)) is None


@pytest.mark.parametrize("arm", [Arm(1, 4), Arm(2, 1), Arm(1, 0)])
def test_a_group_that_is_not_there_cannot_be_picked(arm: Arm) -> None:
    assert with_group_picked(hanger(SENNITS), 12, arm) is None


def test_outside_the_groups_nothing_is_picked() -> None:
    plan = hanger(SENNITS)
    assert arms_at(plan, 3) == ()
    assert arms_at(plan, plan.total) == ()
    assert with_group_picked(plan, 3, Arm(1, 1)) is None


@pytest.mark.parametrize(
    ("inner", "says"),
    [
        ("each: [1-2, 3-4], order: any, steps: [{do: Look.}]", "inside another"),
        ("take up: reed.1a, at: 1", "wait for another"),
        ("make: knob", "wait for another"),
    ],
)
def test_what_makes_one_group_wait_for_another_is_told_where_it_stands(
    inner: str, says: str
) -> None:
    rest = "apart:\n  knob: {start: {nest: [clay]}, work: [{knot: overhand knot, strands: all}]}"
    found = fault(project([f"each: 1-4 by 4, order: any, steps: [{{{inner}}}]"], rest=rest))
    assert (found.code, found.span.line) == ("ORDER", 8)
    assert says in found.message


def test_an_order_that_is_not_any_is_told() -> None:
    found = fault(project(["each: 1-4 by 4, order: left first, steps: [{do: Look.}]"]))
    assert found.code == "CHOICE"
