"""The plan follows what happened, and what was made stays as it was made."""

import pytest
from examples import examples
from hypothesis import given, settings
from hypothesis import strategies as st
from marsh_band import A_RIPPLE, TEXT, band, reordered, repeats

from coach.piece.changes.effective_plan import is_same_so_far, plan_after
from coach.piece.changes.repeat_search import Course, more_repeats, repeats_for_length
from coach.piece.changes.repeats import CannotFollow
from coach.piece.entering.happening_events import end_event, order_event, reopen_event
from coach.piece.events import Ended, WentOn
from coach.plan.plan_model import Plan

BAND = band()
NAMES = [BAND.strands[s].id for s in BAND.start]


def length_of(plan: Plan) -> float:
    return plan.length_mm


def test_nothing_happened_gives_the_very_plan() -> None:
    assert plan_after(BAND, ()) is BAND


@pytest.mark.parametrize("steps", [1, 3, -2])
def test_other_repeats_change_the_rest_and_keep_what_is_made(steps: int) -> None:
    done = 2 * A_RIPPLE + 5
    turns = more_repeats(Course(BAND, (), done), steps)
    assert turns.times == 6 + steps
    assert turns.plan.total == BAND.total + steps * A_RIPPLE
    assert is_same_so_far(BAND, turns.plan, done)
    assert plan_after(BAND, (repeats(turns.times),)).counts == turns.plan.counts


def test_fewer_than_are_begun_are_refused_with_the_least_that_can_be() -> None:
    course = Course(BAND, (), 3 * A_RIPPLE + 1)
    assert more_repeats(course, -2).times == 4
    with pytest.raises(CannotFollow, match="4 are begun"):
        more_repeats(course, -3)


def test_more_after_what_comes_next_is_begun_are_refused() -> None:
    assert more_repeats(Course(BAND, (), 6 * A_RIPPLE), 1).times == 7
    with pytest.raises(CannotFollow, match="ripple is begun"):
        more_repeats(Course(BAND, (), BAND.total), 1)


def test_of_two_calls_of_a_part_the_one_still_to_come_is_changed() -> None:
    text = TEXT.replace("times: 6\n", "times: 3\n  - space: 1 cm\n  - {use: ripple, times: 2}\n")
    plan = band(text)
    early, late = (
        more_repeats(Course(plan, (), 5), 1),
        more_repeats(Course(plan, (), 4 * A_RIPPLE), 1),
    )
    assert (early.times, late.times) == (4, 3)
    assert early.call != late.call


def test_a_mirrored_pair_stays_a_pair() -> None:
    plan = band(TEXT.replace("times: 6\n", "times: 6\n    mirror: every second\n"))
    assert more_repeats(Course(plan, (), 0), 1).times == 8


def test_a_project_without_repeats_says_so() -> None:
    text = TEXT.replace("  - use: ripple\n    times: 6\n", "  - use: ripple\n")
    plan = band(text.replace("size: {length: 14 cm, vary: ripple, least: 2}\n", ""))
    with pytest.raises(CannotFollow, match="does not say what may be repeated"):
        more_repeats(Course(plan, (), 0), 1)


@pytest.mark.parametrize("wish_mm", [60.0, 100.0, 222.0])
def test_the_repeats_that_reach_a_length_are_the_nearest_ones(wish_mm: float) -> None:
    turns, length = repeats_for_length(Course(BAND, (), 0), wish_mm, length_of)
    assert length == pytest.approx(turns.plan.length_mm)
    for times in (turns.times - 1, turns.times + 1):
        if times >= 1:
            other = plan_after(BAND, (repeats(times),)).length_mm
            assert abs(length - wish_mm) <= abs(other - wish_mm)


def test_a_length_that_no_repeats_reach_is_told_with_the_nearest() -> None:
    with pytest.raises(CannotFollow, match=r"4 of ripple, gives about"):
        repeats_for_length(Course(BAND, (), 4 * A_RIPPLE), 20.0, length_of)
    with pytest.raises(CannotFollow, match="No number of repeats"):
        repeats_for_length(Course(BAND, (), 0), 1e9, length_of)


def test_repeats_that_add_no_length_are_told() -> None:
    flat = TEXT.replace(TEXT[TEXT.index("    - row") : TEXT.index("size:")], "    - do: Look.\n")
    with pytest.raises(CannotFollow, match="does not make this piece longer"):
        repeats_for_length(Course(band(flat), (), 0), 100.0, length_of)


def test_another_order_is_worked_by_position_from_the_step_at_hand() -> None:
    """The two outer strands exchanged: each now ties what the other would have."""
    at = A_RIPPLE
    order = [NAMES[-1], *NAMES[1:-1], NAMES[0]]
    plan = plan_after(BAND, (reordered(at, ", ".join(order)),))
    assert plan.counts[:at] == BAND.counts[:at]
    first, last = BAND.start[0], BAND.start[-1]
    swap = {first: last, last: first}
    for was, now in zip(BAND.counts[at:], plan.counts[at:], strict=True):
        assert now.knotters == tuple(swap.get(s, s) for s in was.knotters)
        assert now.fillers == tuple(swap.get(s, s) for s in was.fillers)
    assert [plan.strands[s].id for s in plan.step_at(at).before] == order  # type: ignore[union-attr]  # there is one
    assert plan.used_mm(first, at) == BAND.used_mm(first, at)
    more_used = plan.ledgers[first].total_mm - plan.used_mm(first, at)
    assert more_used == pytest.approx(
        BAND.ledgers[last].total_mm - BAND.used_mm(last, at), rel=0.05
    )


@settings(max_examples=25, deadline=None)
@given(st.permutations(NAMES), st.integers(0, 5))
def test_any_order_is_followed_and_its_opposite_gives_the_first_plan(
    order: list[str], ripple: int
) -> None:
    """Found so, and then found as it was: the ties are those of the first plan again."""
    at = ripple * A_RIPPLE
    there = reordered(at, ", ".join(order))
    plan = plan_after(BAND, (there,))
    assert sorted(plan.finish) == sorted(BAND.finish)
    assert plan_after(BAND, (there, reordered(at, ", ".join(NAMES)))).counts == BAND.counts


@pytest.mark.parametrize(
    "order", [[], NAMES[:-1], [*NAMES[:-1], NAMES[0]], [*NAMES[:-1], "sea.1a"]]
)
def test_an_order_that_lacks_a_strand_is_refused_with_those_that_hang(order: list[str]) -> None:
    with pytest.raises(CannotFollow, match="Every strand that hangs must be named once"):
        order_event(BAND, (), order, 0)


def test_an_order_in_the_middle_of_a_step_is_refused() -> None:
    with pytest.raises(CannotFollow, match="start of a step"):
        order_event(BAND, (), NAMES, 3)


@examples(30)
@given(st.integers(1, BAND.total))
def test_a_piece_ended_early_has_what_was_made_and_no_more(done: int) -> None:
    kind, fields = end_event(BAND, (), done)
    plan = plan_after(BAND, (kind(at_ms=0, tick_ms=0, sitting=0, **fields),))
    assert plan.total == fields["total"] == done
    assert plan.counts == BAND.counts[:done]
    assert plan.height_mm == pytest.approx(BAND.height_mm[: done + 1])
    for strand in BAND.start:
        assert plan.ledgers[strand].total_mm == pytest.approx(BAND.used_mm(strand, done))
    assert sorted(plan.finish) == sorted(BAND.start)


def test_a_piece_of_nothing_cannot_end() -> None:
    with pytest.raises(CannotFollow, match="Nothing of this piece is made"):
        end_event(BAND, (), 0)


def test_a_piece_that_goes_on_after_all_has_all_its_counts_again() -> None:
    end = Ended(at_ms=0, tick_ms=0, sitting=0, at_done=40, total=40)
    kind, fields = reopen_event(BAND, (end,), 40)
    assert kind is WentOn
    assert fields["total"] == BAND.total
    on = WentOn(at_ms=0, tick_ms=0, sitting=0, **fields)
    assert plan_after(BAND, (end, on)) == BAND
