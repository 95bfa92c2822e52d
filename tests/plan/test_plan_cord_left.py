"""Of which strands cord left is told: those that hang by now, at hand first, then the worst."""

from typing import Any

import pytest
from examples import examples
from hypothesis import given
from hypothesis import strategies as st
from planned import REED, on_strands, planned, project, singles
from random_steps import INNER, parts

from coach.plan.board_at_count import order_at
from coach.plan.cord.cord_left import CordLeft, KnownCordLeft, StrandLeft, shares_mm
from coach.plan.cord.cut_list import cut_list
from coach.plan.plan_model import Plan

WORK = st.integers(4, 8).flatmap(lambda n: st.tuples(st.just(n), parts(n)))
SHARE = st.sampled_from((0.3, 0.8, 1.0))


def plan_on(drawn: tuple[int, Any]) -> Plan:
    number, steps = drawn
    start, cords = singles(number)
    return planned(project(steps, start, cords | {"clay": REED}, {"inner": INNER}))


def cords_of(plan: Plan, share: float = 1.0) -> CordLeft:
    """Return the cord left where every strand was cut to this share of its length."""
    shares = {s: share * mm for s, mm in shares_mm(plan, cut_list(plan)).items()}
    return CordLeft(plan, shares=shares)


@examples(80)
@given(WORK)
def test_cord_left_is_told_of_the_strands_on_the_board_and_no_others(
    drawn: tuple[int, Any],
) -> None:
    """Nothing of strands to be hung yet or laid aside, whatever comes and goes."""
    plan = plan_on(drawn)
    cords = cords_of(plan)
    for done in range(plan.total + 1):
        order = order_at(plan, done)
        assert {left.strand for left in cords.hanging(done, order)} == set(order)


@examples(80)
@given(WORK)
def test_those_at_hand_come_first_and_then_the_worst(drawn: tuple[int, Any]) -> None:
    """The mover of a row before who knots, who knots before who is knotted onto."""
    plan = plan_on(drawn)
    cords = cords_of(plan)
    worst = {left.strand: place for place, left in enumerate(cords.at(0))}
    for step in plan.steps:
        for done in range(step.first, step.end):
            count = plan.counts[done]

            def rank(strand: int, step: Any = step, count: Any = count) -> tuple[int, int]:
                parts = [{step.mover}, {*count.knotters}, {*count.fillers}, {strand}]
                return next(i for i, part in enumerate(parts) if strand in part), worst[strand]

            found = [left.strand for left in cords.hanging(done, order_at(plan, done))]
            assert found == sorted(found, key=rank)
            few = cords.hanging(done, order_at(plan, done), 3)
            assert [left.strand for left in few] == found[:3]


@examples(80)
@given(WORK, SHARE)
def test_every_strand_that_will_not_reach_is_among_the_short_ones(
    drawn: tuple[int, Any], share: float
) -> None:
    """Those on the board first; one to be hung yet can still be cut longer; one laid aside not."""
    plan = plan_on(drawn)
    cords = cords_of(plan, share)
    hung_at = {s: step.end for step in plan.steps for s in step.new_strands}
    for done in range(plan.total + 1):
        order = order_at(plan, done)
        short = {left.strand for left in cords.at(done) if left.short}
        coming = {s for s, at in hung_at.items() if done < at}
        found = [left.strand for left in cords.short(done, order)]
        assert set(found) == short & (coming | set(order))
        on_board = [strand in order for strand in found]
        assert on_board == sorted(on_board, reverse=True)


def test_a_strand_laid_aside_is_left_out_until_it_is_taken_up() -> None:
    plan = on_strands(
        4, "lay aside: 2", "knot: square knot, strands: 1-3", "take up: c2.1a, at: 2", "space: 1 cm"
    )
    cords = cords_of(plan, 0.2)
    (aside,) = (s for s, strand in enumerate(plan.strands) if strand.id == "c2.1a")
    told = [
        [aside in {left.strand for left in found(done, order_at(plan, done))}
         for found in (cords.hanging, cords.short)]
        for done in range(4)
    ]  # fmt: skip
    assert told == [[True, True], [False, False], [False, False], [True, True]]


def test_a_piece_that_ties_round_others_is_told_while_it_is_at_work() -> None:
    """A clasp has no place on the board; it hangs from its first knot to its last."""
    plan = planned(
        project(["knot: square knot, strands: 1-4, with: clay, times: 3", "space: 1 cm"],
                "{nest: [2 reed]}")
    )  # fmt: skip
    cords = cords_of(plan)
    told = [
        [plan.strands[left.strand].cord for left in cords.hanging(done, order_at(plan, done))]
        for done in range(plan.total + 1)
    ]
    reed = ["reed"] * 4
    assert told == [reed, ["clay", "clay", *reed], ["clay", "clay", *reed], reed, reed]


@pytest.mark.parametrize(
    ("beyond_mm", "short"),
    [(-1.0, True), (1.0, False), (14.0, False), (26.0, False)],
    ids=["most falls short", "most just reaches", "likely falls short", "least reaches"],
)
def test_a_strand_is_short_where_even_the_most_leaves_less_than_its_tail(
    beyond_mm: float, *, short: bool
) -> None:
    """By the range told beside it; `beyond_mm` is how far its most is above the tail."""
    plan = planned(project(["knot: square knot, strands: 1-4, times: 40"]))
    strand = plan.start[0]
    need = plan.ledgers[strand].total_mm + plan.tail_mm[strand]

    def left(share_mm: float) -> StrandLeft:
        cords = CordLeft(plan, shares={strand: share_mm}, spread=lambda _: 10.0)
        return next(found for found in cords.at(0) if found.strand == strand)

    whole = left(2 * need)
    off = whole.end_high_mm - whole.end_mm
    assert off > 12, "the range is too narrow to tell the cases apart"
    found = left(need - off + beyond_mm)
    assert found.end_high_mm - plan.tail_mm[strand] == pytest.approx(beyond_mm)
    assert found.short == short
    assert {
        told.strand
        for told in CordLeft(
            plan, shares={strand: need - off + beyond_mm}, spread=lambda _: 10.0
        ).short(0, plan.start)
    } == ({strand} if short else set())


@pytest.mark.parametrize("step", ["gathering knot, wrap: clay, around: all, length: {long}",
                                  "square knot, strands: 1-4, with: clay, times: 4"])  # fmt: skip
@pytest.mark.parametrize("long", ["5 mm", "9 cm"])
@pytest.mark.parametrize("tail", ["0 cm", "40 cm"])
def test_no_strand_and_no_wrap_has_more_at_the_end_than_now(
    step: str, long: str, tail: str
) -> None:
    """Measured in the middle of it or not, whatever its tail is."""
    cords = {"reed": REED, "clay": f"{{diameter: 6 mm, fibre: jute, tail: {tail}}}"}
    work = ["knot: square knot, strands: 1-4", f"knot: {step.format(long=long)}",
            "knot: half knot, strands: 1-4, times: 2"]  # fmt: skip
    plan = planned(project(work, "{hang: [2 reed]}", cords))
    for rest in (None, KnownCordLeft(2, 30.0), KnownCordLeft(plan.total - 1, 1.0)):
        rests = {} if rest is None else dict.fromkeys(range(len(plan.strands)), rest)
        left = CordLeft(plan, rests=rests)
        for done in range(rest.done if rest else 0, plan.total + 1):
            for one in left.at(done):
                assert one.end_mm <= one.now_mm + 1e-6
                assert one.end_low_mm <= one.now_low_mm + 1e-6
                assert one.end_high_mm <= one.now_high_mm + 1e-6
