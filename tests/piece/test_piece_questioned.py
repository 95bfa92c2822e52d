"""Measures that cannot be so are questioned, with what may have happened; true ones are not."""

from dataclasses import replace

import numpy as np
import pytest
from marsh_band import A_RIPPLE, band, in_true_hands, measured, strand

from coach.pace.cord_learning import SURPRISING
from coach.pace.gaussian import Belief
from coach.piece.entering.measure_doubts import MeasureDoubt, doubt_measure
from coach.piece.events import Measured
from coach.piece.learning.estimates import Known, estimates_of, in_hands
from coach.plan.plan_model import Plan

BAND = band()
HALF = 3 * A_RIPPLE
NOW = estimates_of(BAND, ())


def rest_of(plan: Plan, name: str, done: int = HALF) -> float:
    """The rest that a strand really has, hung as it was cut."""
    number = strand(BAND, name)
    return NOW.rests[number].length_mm - plan.used_mm(number, done)


def asked(
    length_mm: float, name: str = "", lying: str = "", now: Known = NOW
) -> MeasureDoubt | None:
    seen = measured(HALF, length_mm, name, lying)
    assert isinstance(seen, Measured)
    return doubt_measure(now, seen)


def test_true_measures_of_all_sorts_of_hands_are_hardly_ever_questioned() -> None:
    """Compression over its whole range, slack as far as the model believes in it; one in fifty."""
    rng = np.random.default_rng(5)
    questions = 0
    for _ in range(60):
        truth = in_true_hands(BAND, rng.uniform(0.7, 0.9), rng.normal(0, 0.04))
        rest, length = rest_of(truth, "reed.1a"), truth.height_mm[HALF]
        questions += asked(rest, "reed.1a") is not None
        questions += asked(length) is not None
    assert questions <= 120 / 50


@pytest.mark.parametrize(
    ("spoilt", "why"),
    [
        (lambda mm: mm / 2.54, "inches"),
        (lambda mm: mm * 2.54, "centimetres"),
        (lambda mm: mm / 10, "a tenth"),
        (lambda mm: mm * 10, "ten times"),
    ],
)
@pytest.mark.parametrize("name", ["", "reed.1a"])
def test_another_unit_is_offered_first_with_what_it_then_is(
    name: str, spoilt: "type[float]", why: str
) -> None:
    truth = in_true_hands(BAND, 0.8, 0.02)
    right = rest_of(truth, name) if name else truth.height_mm[HALF]
    found = asked(spoilt(right), name)
    assert found
    offered = {reason.why: reason.measure for reason in found.reasons}
    assert offered[why].length_mm == pytest.approx(right)
    assert offered[why].strand == name
    assert found.expected.low_mm <= right <= found.expected.high_mm


def test_the_rest_of_another_strand_is_offered_by_its_name() -> None:
    """The other end of the same piece has used far less; its own rest is no surprise."""
    other = rest_of(BAND, "reed.1b")
    assert not asked(other, "reed.1b")
    found = asked(other, "reed.1a")
    assert found
    (rest,) = [reason.measure for reason in found.reasons if reason.why == "a rest"]
    assert rest_of(BAND, rest.strand) == pytest.approx(other)
    assert rest.length_mm == other


def test_a_rest_with_the_work_in_it_is_offered_without_it() -> None:
    right = rest_of(BAND, "reed.1a")
    thick = estimates_of(BAND, (measured(HALF - 1, rest_of(BAND, "reed.1a", HALF - 1), "reed.1a"),))
    found = asked(right + BAND.height_mm[HALF], "reed.1a", now=thick)
    assert found
    offered = {reason.why: reason.measure for reason in found.reasons}
    assert offered["the work in it"].length_mm == pytest.approx(right, abs=1)


def test_work_that_hangs_under_load_is_offered_as_that() -> None:
    """Once the cord is known from a measure before, a quarter more is a surprise."""
    now = estimates_of(BAND, (measured(36, BAND.height_mm[36]),))
    found = asked(BAND.height_mm[HALF] * 1.25, now=now)
    assert found
    assert [r.measure.lying for r in found.reasons if r.why == "loaded"] == ["loaded"]


def test_a_length_that_asks_for_a_cord_thicker_than_its_name_is_questioned() -> None:
    """Hard cord, at 94 %: a sixth more is no great surprise, and still it cannot be."""
    hard = {(cord, ""): Belief(0.94, 0.08) for cord in ("reed", "clay")}
    now = estimates_of(in_hands(BAND, hard), (), hard)
    right = now.length(HALF).likely_mm
    assert not asked(right * 0.92, now=now)
    found = asked(right * 1.18, now=now)
    assert found
    assert found.doubt == SURPRISING


def test_a_length_that_asks_for_a_cord_that_gives_more_than_any_is_questioned() -> None:
    """Soft cord, at 66 %: a fifth less is no great surprise, and still it cannot be."""
    soft = {(cord, ""): Belief(0.66, 0.08) for cord in ("reed", "clay")}
    now = estimates_of(in_hands(BAND, soft), (), soft)
    right = now.length(HALF).likely_mm
    assert not asked(right * 0.96, now=now)
    found = asked(right * 0.78, now=now)
    assert found
    assert found.doubt == SURPRISING


@pytest.mark.parametrize("times", [1.5, 0.5])
def test_half_as_long_again_is_questioned_and_kept_it_weighs_little(times: float) -> None:
    """Believed, it would move the cord by nearly half; doubted, by less than a tenth."""
    right = BAND.height_mm[HALF]
    found = asked(right * times)
    assert found
    assert found.doubt >= SURPRISING
    kept = measured(HALF, right * times)
    assert isinstance(kept, Measured)
    doubted = (
        estimates_of(BAND, (replace(kept, doubt=found.doubt),)).learnt.belief(("reed", "")).mean
    )
    believed = estimates_of(BAND, (kept,)).learnt.belief(("reed", "")).mean
    assert abs(doubted - 0.78) < 0.08 < abs(believed - 0.78)


@pytest.mark.parametrize("times", [1.3, 1.6, 3.0])
def test_no_measure_makes_a_cord_thicker_than_its_name(times: float) -> None:
    used = times * BAND.used_mm(strand(BAND, "reed.1a"), HALF)
    seen = [
        measured(HALF, BAND.height_mm[HALF] * times),
        measured(HALF, max(1.0, NOW.rests[strand(BAND, "reed.1a")].length_mm - used), "reed.1a"),
    ]
    found = estimates_of(BAND, seen)
    for cord in ("reed", "clay"):
        assert found.learnt.belief((cord, "")).mean <= 1.005
        assert found.plan.hands.compression_of(cord) <= 1.005


def drifting(plan: Plan, name: str, compression: float, first: float, last: float) -> list[float]:
    """What a strand has used after each count, in hands whose slack goes from first to last."""
    truth, number = in_true_hands(plan, compression), strand(plan, name)
    used = [truth.used_mm(number, done) for done in range(plan.total + 1)]
    total, grown = [0.0], np.diff(used)
    for at, more in enumerate(grown):
        slack = first + (last - first) * at / plan.total
        total.append(total[-1] + more * (1 + slack))
    return total


def test_hands_that_drift_are_followed() -> None:
    """Tighter or looser by up to a tenth over the piece: seven ranges in ten hold at the end."""
    rng, held = np.random.default_rng(9), []
    for _ in range(40):
        name = str(rng.choice(["reed.1a", "clay.1b"]))
        start, end = rng.normal(0, 0.03), rng.normal(0, 0.03) + rng.choice((-0.08, 0.08))
        used = drifting(BAND, name, float(rng.normal(0.8, 0.05)), start, end)
        hung = NOW.rests[strand(BAND, name)].length_mm
        seen = [measured(d, hung - used[d] + rng.normal(0, 2), name) for d in (18, 36, 54, 72)]
        left = estimates_of(BAND, seen).cord_left().at(72)
        mine = next(one for one in left if one.strand == strand(BAND, name))
        held.append(mine.end_low_mm <= max(0.0, hung - used[-1]) <= mine.end_high_mm)
    assert np.mean(held) >= 0.7


def test_a_kept_length_is_no_place_to_go_on_from() -> None:
    """Half as long again, believed, would stay in the length of the finished work."""
    now = NOW.length(HALF).likely_mm
    seen = measured(HALF, 1.5 * now)
    assert isinstance(seen, Measured)
    found = doubt_measure(NOW, seen)
    assert found
    believed, kept = (
        estimates_of(BAND, (seen,)),
        estimates_of(BAND, (replace(seen, doubt=found.doubt),)),
    )
    finished = NOW.length().likely_mm
    assert believed.length().likely_mm > 1.2 * finished
    assert kept.length().likely_mm == pytest.approx(finished, rel=0.12)


@pytest.mark.parametrize(("times", "gone_on"), [(0.6, True), (1.3, False)])
def test_a_kept_rest_is_gone_on_from_on_the_careful_side(times: float, *, gone_on: bool) -> None:
    """Less than expected warns of a strand that may end; more would only lull."""
    rest = times * rest_of(BAND, "reed.1a")
    seen = measured(HALF, rest, "reed.1a")
    assert isinstance(seen, Measured)
    kept = estimates_of(BAND, (replace(seen, doubt=9.0),))
    number = strand(BAND, "reed.1a")
    assert (kept.rests[number].length_mm == rest) is gone_on
