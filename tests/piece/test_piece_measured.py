"""What is measured moves what is expected: towards the truth of hands that are simulated."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from marsh_band import A_RIPPLE, TEXT, band, in_true_hands, joined, measured, repeats, strand

from coach.piece.changes.repeats import CannotFollow
from coach.piece.entering.happening_events import join_event
from coach.piece.entering.measure_events import length_event, rest_event
from coach.piece.learning.estimates import Known, estimates_of
from coach.plan.plan_model import Plan

BAND = band()
HALF = 3 * A_RIPPLE


def rest_of(plan: Plan, now: Known, name: str, done: int) -> float:
    """The rest that a strand really has, hung as it was cut."""
    number = strand(plan, name)
    return now.rests[number].length_mm - plan.used_mm(number, done)


def end_of(now: Known, name: str, done: int) -> tuple[float, float, float]:
    left = next(left for left in now.cord_left().at(done) if left.strand == strand(now.plan, name))
    return left.end_low_mm, left.end_mm, left.end_high_mm


def test_three_measures_bring_length_and_rests_to_the_truth() -> None:
    """A cord that gives little and knots tied slack, in hands the model does not know."""
    truth, first = in_true_hands(BAND, 0.86, 0.05), estimates_of(BAND, ())
    seen = (
        measured(HALF, rest_of(truth, first, "reed.1a", HALF), "reed.1a"),
        measured(HALF, truth.height_mm[HALF]),
        measured(HALF + A_RIPPLE, truth.height_mm[HALF + A_RIPPLE]),
    )
    off, widths = [], []
    for number in range(len(seen) + 1):
        length = estimates_of(BAND, seen[:number]).length()
        off.append(abs(length.likely_mm - truth.length_mm))
        widths.append(length.high_mm - length.low_mm)
    assert off[1] < off[0]
    assert off[-1] < 0.25 * off[0]
    assert widths == sorted(widths, reverse=True)
    low, _, high = end_of(estimates_of(BAND, seen), "reed.1a", HALF)
    assert low <= rest_of(truth, first, "reed.1a", truth.total) <= high


def test_a_rest_that_is_as_expected_moves_nothing_and_narrows_the_range() -> None:
    first = estimates_of(BAND, ())
    seen = measured(HALF, rest_of(BAND, first, "clay.1a", HALF), "clay.1a")
    after = estimates_of(BAND, (seen,))
    assert after.learnt.belief(("clay", "")).mean == pytest.approx(0.78, abs=1e-6)
    was, now = end_of(first, "clay.1a", HALF), end_of(after, "clay.1a", HALF)
    assert now[1] == pytest.approx(was[1], abs=0.01)
    assert now[2] - now[0] < 0.7 * (was[2] - was[0])


def test_a_measured_strand_has_left_what_was_measured_now() -> None:
    first = estimates_of(BAND, ())
    length = rest_of(BAND, first, "reed.1a", HALF) - 40
    after = estimates_of(BAND, (measured(HALF, length, "reed.1a"),))
    left = next(x for x in after.cord_left().at(HALF) if x.strand == strand(BAND, "reed.1a"))
    assert left.now_mm == pytest.approx(length)
    assert left.now_high_mm - left.now_low_mm < 10


def test_a_measure_taken_again_at_the_same_tie_takes_the_place_of_the_first() -> None:
    wrong, right = measured(HALF, 80.0), measured(HALF, BAND.height_mm[HALF])
    assert estimates_of(BAND, (wrong, right)).length() == estimates_of(BAND, (right,)).length()


def test_a_length_that_lies_otherwise_than_the_plan_means_says_less() -> None:
    length = BAND.height_mm[HALF] * 1.1
    alike, other = (
        estimates_of(BAND, (measured(HALF, length, lying=lying),))
        for lying in ("relaxed", "loaded")
    )
    reed = ("reed", "")
    assert alike.learnt.belief(reed).sd < other.learnt.belief(reed).sd < 0.076
    assert alike.learnt.belief(reed).mean > other.learnt.belief(reed).mean > 0.78
    assert other.grown.done == 0


def test_a_strand_that_will_not_reach_is_told_when_the_range_says_so() -> None:
    """At first it may reach; once it is measured to use far more than told, it will not."""
    first = estimates_of(BAND, ())
    number = strand(BAND, "reed.1a")
    assert not any(left.short for left in first.cord_left().at(HALF))
    used = 1.45 * BAND.used_mm(number, HALF)
    seen = measured(HALF, first.rests[number].length_mm - used, "reed.1a")
    left = {x.strand: x for x in estimates_of(BAND, (seen,)).cord_left().at(HALF)}[number]
    assert left.short
    assert left.runs_out_at is not None
    assert HALF < left.runs_out_at < BAND.total


def test_a_cord_joined_in_is_what_the_strand_has_from_then_on() -> None:
    after = estimates_of(BAND, (joined(HALF, "reed.1a", 2000.0, 50.0),))
    left = {x.strand: x for x in after.cord_left().at(HALF)}[strand(BAND, "reed.1a")]
    assert left.now_mm == pytest.approx(1950.0)
    assert not after.is_told(("reed", ""))


def test_pieces_stay_as_they_were_cut_when_repeats_change() -> None:
    """Eight ripples out of cords cut for six: every strand ends with less."""
    before, after = estimates_of(BAND, ()), estimates_of(BAND, (repeats(8),))
    for number, rest in before.rests.items():
        assert after.rests[number] == rest
    assert end_of(after, "reed.1a", 0)[1] < end_of(before, "reed.1a", 0)[1]


@settings(max_examples=20, deadline=None)
@given(st.floats(0.7, 0.95), st.floats(0, 0.08), st.integers(30, 100))
def test_whatever_the_hands_the_truth_is_held_after_a_rest_and_a_length(
    compression: float, slack: float, done: int
) -> None:
    """Ranges are for four in five; three times as wide they hold every time."""
    truth, first = in_true_hands(BAND, compression, slack), estimates_of(BAND, ())
    seen = [measured(done, truth.height_mm[done])] + [
        measured(done, rest_of(truth, first, name, done), name) for name in ("reed.1a", "clay.2b")
    ]
    after = estimates_of(BAND, seen)
    length = after.length()
    assert abs(length.likely_mm - truth.length_mm) < 3 * (length.high_mm - length.likely_mm) + 1
    for name in ("reed.1a", "clay.2b"):
        low, likely, high = end_of(after, name, done)
        real = rest_of(truth, first, name, truth.total)
        assert abs(likely - real) < 3 * max(high - likely, likely - low) + 1


@pytest.mark.parametrize("length_mm", [0.0, -5.0])
def test_a_rest_of_nothing_is_refused(length_mm: float) -> None:
    with pytest.raises(CannotFollow, match="must be more than zero"):
        rest_event(estimates_of(BAND, ()), strand(BAND, "reed.1a"), length_mm, HALF)


def test_a_rest_longer_than_the_cut_is_refused_with_what_it_can_be() -> None:
    now = estimates_of(BAND, ())
    number = strand(BAND, "reed.1a")
    hung = now.rests[number].length_mm
    with pytest.raises(CannotFollow, match=r"hung with .* at the start; it cannot have more"):
        rest_event(now, number, hung + 30, HALF)
    with pytest.raises(CannotFollow, match=r"is expected\. Check that it is this strand"):
        rest_event(now, number, hung - 5, HALF)


@pytest.mark.parametrize("length_mm", [0.0, 1.0, 900.0])
def test_a_length_that_cannot_be_is_refused(length_mm: float) -> None:
    with pytest.raises(CannotFollow, match=r"must be more than zero|is expected by now"):
        length_event(estimates_of(BAND, ()), length_mm, "relaxed", 6 * A_RIPPLE)


def test_a_length_before_the_first_knot_is_refused() -> None:
    with pytest.raises(CannotFollow, match="Nothing has length yet"):
        length_event(estimates_of(BAND, ()), 30.0, "relaxed", 0)


def test_an_overlap_as_long_as_the_cord_is_refused() -> None:
    with pytest.raises(CannotFollow, match="takes the whole new cord"):
        join_event(estimates_of(BAND, ()), strand(BAND, "reed.1a"), 100.0, 100.0, HALF)


def test_a_makers_own_swatch_is_where_the_hands_begin() -> None:
    """The file's swatch is met exactly in usual hands; another cord differs from there."""
    text = TEXT + "measured: [{knot: square knot, cord: reed, times: 10, length: 100 mm}]\n"
    plan = band(text)
    assert plan.length_mm != pytest.approx(BAND.length_mm)
    firm = in_true_hands(plan, 0.78 * 1.1)
    assert firm.length_mm == pytest.approx(1.1 * plan.length_mm, rel=1e-6)
