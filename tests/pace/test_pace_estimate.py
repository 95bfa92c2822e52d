"""Paces learnt from counts, and whether the ranges they give hold."""

from dataclasses import dataclass
from math import exp, hypot, log, log1p

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from coach.pace.data import from_data, to_data
from coach.pace.estimate import (
    DRIFT_SD,
    GAIN,
    GAIN_SD,
    Paces,
    expect,
    observe,
    scale_to,
    tie_var,
    time_for,
)
from coach.pace.prior import PLAIT_CROSSING_S, PRIOR_S, prior_s

WALL_HANGING = [
    *(["lark's head"] * 12),
    *((["clove hitch"] * 5 + ["square knot"] * 3 + ["half knot"] * 2) * 20),
    *(["gathering knot"] * 2),
]


@dataclass(frozen=True)
class Hands:
    """How a crowd of makers differs; none of these figures stands in the estimator."""

    maker_sd: float = 0.4
    knot_sd: float = 0.2
    tie_sd: tuple[float, float] = (0.25, 0.5)
    slips: float = 0.0  # share of ties that take three times as long
    practice: float = 0.0  # how fast the hands get quicker
    mood: float = 0.0  # how far one tie is like the one before


def a_maker(rng: np.random.Generator, hands: Hands) -> np.ndarray:
    """True seconds of each tie of the wall hanging by one simulated maker."""
    knots = sorted(set(WALL_HANGING))
    own = dict(zip(knots, rng.normal(0, hands.knot_sd, len(knots)), strict=True))
    noise = rng.normal(0, rng.uniform(*hands.tie_sd), len(WALL_HANGING))
    for i in range(1, len(noise)):
        noise[i] = hands.mood * noise[i - 1] + np.sqrt(1 - hands.mood**2) * noise[i]
    median = np.array([prior_s(knot) * exp(own[knot]) for knot in WALL_HANGING])
    times = median * np.exp(rng.normal(0, hands.maker_sd) + noise)
    times *= np.exp(-hands.practice * np.log1p(np.arange(len(times)) / 20))
    return np.where(rng.random(len(times)) < hands.slips, 3 * times, times)


def left_after(done: int) -> dict[str, int]:
    left = WALL_HANGING[done:]
    return {knot: left.count(knot) for knot in sorted(set(left))}


def shares_inside(hands: Hands, seed: int, makers: int = 150) -> dict[float, float]:
    """The share of makers whose real remaining time fell in the range told beforehand."""
    rng = np.random.default_rng(seed)
    told_at = {int(part * len(WALL_HANGING)): part for part in (0.0, 0.2, 0.5)}
    inside = dict.fromkeys(told_at.values(), 0)
    for _ in range(makers):
        times, paces = a_maker(rng, hands), Paces()
        for i, knot in enumerate(WALL_HANGING[: max(told_at) + 1]):
            if i in told_at:
                told = time_for(paces, left_after(i))
                inside[told_at[i]] += told.low_s <= times[i:].sum() <= told.high_s
            paces = observe(paces, knot, times[i])
    return {part: hits / makers for part, hits in inside.items()}


@pytest.mark.parametrize(
    ("hands", "seed"),
    [
        (Hands(maker_sd=0.5, knot_sd=0.25, tie_sd=(0.35, 0.6)), 11),
        (Hands(slips=0.02), 12),
        (Hands(practice=0.04, mood=0.2), 13),
    ],
)
def test_about_eight_in_ten_real_times_fall_inside(hands: Hands, seed: int) -> None:
    """Told at the start, after a fifth and at half, on makers whom the estimator never saw."""
    for part, share in shares_inside(hands, seed).items():
        assert 0.70 <= share <= 0.92, (part, share)


def test_ranges_narrow_as_the_maker_is_known() -> None:
    rng = np.random.default_rng(5)
    times, paces = a_maker(rng, Hands()), Paces()
    widths = []
    for i, knot in enumerate(WALL_HANGING[:120]):
        if i in (0, 20, 100):
            told = time_for(paces, left_after(i))
            widths.append(told.high_s / told.low_s)
        paces = observe(paces, knot, times[i])
    assert widths[0] > widths[1] > widths[2]


def test_a_single_unseen_tie_has_the_log_normal_quantiles_of_the_model() -> None:
    """Closed form against quantiles drawn with numpy from the same spreads."""
    rng = np.random.default_rng(3)
    sd = hypot(0.45, 0.25, 0.40, GAIN_SD, DRIFT_SD)
    median = 8 / exp(0.40**2 / 2) * exp(GAIN)
    drawn = np.quantile(median * np.exp(rng.normal(0, sd, 400_000)), [0.1, 0.5, 0.9])
    told = time_for(Paces(), {"clove hitch": 1})
    assert [told.low_s, told.likely_s, told.high_s] == pytest.approx(drawn, rel=0.01)


def test_before_anything_is_seen_the_trades_figure_is_expected() -> None:
    assert expect(Paces(), "clove hitch") == pytest.approx(PRIOR_S["clove hitch"])


def test_uncertainty_of_the_pace_is_shared_by_all_ties() -> None:
    """A thousand ties are hardly less uncertain than a hundred: the pace is one for all."""
    hundred = time_for(Paces(), {"square knot": 100})
    thousand = time_for(Paces(), {"square knot": 1000})
    assert thousand.likely_s == pytest.approx(10 * hundred.likely_s, rel=0.06)
    assert thousand.high_s / thousand.low_s > 0.98 * hundred.high_s / hundred.low_s


def test_hands_may_still_change_however_much_was_seen() -> None:
    """A long rest of the work is never told closer than some hundredths either way."""
    paces = Paces()
    for _ in range(1000):
        paces = observe(paces, "clove hitch", 8.0)
    told = time_for(paces, {"clove hitch": 10_000})
    assert told.low_s < 0.93 * told.likely_s
    assert told.high_s > 1.07 * told.likely_s


def test_a_steady_pace_is_learnt() -> None:
    paces = Paces()
    for _ in range(60):
        paces = observe(paces, "clove hitch", 14.0)
    assert expect(paces, "clove hitch") == pytest.approx(14.0, rel=0.05)


def test_a_slow_maker_of_one_knot_is_expected_to_be_slow_at_another() -> None:
    paces = Paces()
    for _ in range(40):
        paces = observe(paces, "clove hitch", 20.0)
    assert expect(paces, "square knot") > 1.4 * expect(Paces(), "square knot")


def test_one_wild_time_hardly_moves_a_known_pace() -> None:
    paces = Paces()
    for _ in range(30):
        paces = observe(paces, "clove hitch", 8.0)
    before = expect(paces, "clove hitch")
    assert expect(observe(paces, "clove hitch", 800.0), "clove hitch") < 1.1 * before


def test_a_row_counted_at_once_teaches_about_what_its_ties_would() -> None:
    rng = np.random.default_rng(8)
    singly, by_rows = Paces(), Paces()
    for _ in range(30):
        row = 12 * np.exp(rng.normal(0, 0.4, 6))
        by_rows = observe(by_rows, "clove hitch", row.sum(), 6)
        for seconds in row:
            singly = observe(singly, "clove hitch", seconds)
    assert expect(by_rows, "clove hitch") == pytest.approx(expect(singly, "clove hitch"), rel=0.08)


@pytest.mark.parametrize("seconds", [0.0, -3.0, float("nan"), float("inf")])
def test_a_time_that_is_none_teaches_nothing(seconds: float) -> None:
    assert observe(Paces(), "clove hitch", seconds) == Paces()


def test_old_ties_fade_so_that_practice_shows() -> None:
    """After 600 slow ties, 300 quick ones bring the pace most of the way."""
    paces = Paces()
    for seconds in [16.0] * 600 + [8.0] * 300:
        paces = observe(paces, "clove hitch", seconds)
    assert expect(paces, "clove hitch") < 11.5


def test_spread_from_tie_to_tie_is_learnt() -> None:
    rng = np.random.default_rng(2)
    paces = Paces()
    for seconds in 8 * np.exp(rng.normal(0, 0.2, 250)):
        paces = observe(paces, "clove hitch", seconds)
    assert tie_var(paces) == pytest.approx(0.2**2, rel=0.25)


def test_a_makers_figure_scales_the_whole() -> None:
    ties = {"clove hitch": 300, "square knot": 40}
    told = time_for(scale_to(Paces(), ties, (3600.0, 5400.0)), ties)
    assert 3600 < told.likely_s < 5400
    assert told.low_s < 3600
    assert told.high_s > 5400


def test_a_makers_figure_leaves_stated_steps_alone() -> None:
    """Of 4000 s for the whole, 3000 s of waiting are not the hands' doing."""
    ties, waiting = {"clove hitch": 100}, [(3000.0, 3000.0)]
    paces = scale_to(Paces(), ties, (4000.0, 4000.0), waiting)
    assert time_for(paces, ties).likely_s == pytest.approx(1000, rel=0.2)
    assert time_for(paces, ties, waiting).low_s > 3000


@pytest.mark.parametrize(("ties", "takes"), [({}, (600.0, 600.0)), ({"half knot": 5}, (0.0, 0.0))])
def test_a_figure_that_says_nothing_scales_nothing(
    ties: dict[str, int], takes: tuple[float, float]
) -> None:
    assert scale_to(Paces(), ties, takes) == Paces()


def test_a_makers_figure_is_outweighed_by_what_is_seen() -> None:
    ties = {"clove hitch": 200}
    paces = scale_to(Paces(), ties, (7000.0, 7000.0))
    for _ in range(80):
        paces = observe(paces, "clove hitch", 8.0)
    assert expect(paces, "clove hitch") == pytest.approx(8.0, rel=0.1)


def test_nothing_left_takes_no_time() -> None:
    told = time_for(Paces(), {"clove hitch": 0})
    assert (told.low_s, told.likely_s, told.high_s) == (0.0, 0.0, 0.0)


def test_a_stated_time_alone_is_its_own_range() -> None:
    told = time_for(Paces(), {}, [(600.0, 900.0)])
    assert (told.low_s, told.high_s) == pytest.approx((600.0, 900.0))


def test_the_bracelet_that_everyone_makes() -> None:
    """Clove-hitch bracelet of 15 cm in 1 mm cord, plaited ends: 45 to 60 min.

    Common practice, no source. Rows of five ties, one every 2.8 contact diameters of 0.78 mm
    (worked out by tightening); four plaits of 10 cm, a crossing every contact diameter; four
    overhand knots.
    """
    ties = {"clove hitch": 5 * round(150 / (2.8 * 0.78)), "overhand knot": 4}
    plait_s = PLAIT_CROSSING_S * 100 / 0.78
    told = time_for(Paces(), ties, [(plait_s, plait_s)] * 4)
    assert 45 * 60 <= told.likely_s <= 60 * 60


def test_every_figure_of_the_trade_is_a_time() -> None:
    assert all(0 < seconds <= 300 for seconds in PRIOR_S.values())
    assert prior_s("clove hitch") == 2 * prior_s("half hitch")
    assert prior_s("a knot of the future") > 0


looks = st.lists(
    st.tuples(
        st.sampled_from(["clove hitch", "square knot", "gathering knot"]),
        st.floats(0.01, 10_000),
        st.integers(1, 40),
    ),
    max_size=25,
)


@given(looks)
def test_ranges_are_in_order_and_paces_can_be_kept(seen: list[tuple[str, float, int]]) -> None:
    """Whatever was seen, low < likely < high, and data gives back the same paces."""
    paces = Paces()
    for knot, seconds, ties in seen:
        paces = observe(paces, knot, seconds, ties)
    told = time_for(paces, {"clove hitch": 7, "half knot": 3, "": 2})
    assert 0 < told.low_s < told.likely_s < told.high_s < float("inf")
    assert from_data(to_data(paces)) == paces


@pytest.mark.parametrize(
    "data",
    [
        {},
        {"seen": [], "scale": 0, "scale_sd": 1},
        {"seen": {}, "scale": 0, "scale_sd": 0},
        {"seen": {"half knot": {"ties": 0}}, "scale": 0, "scale_sd": 1},
        {"seen": {"half knot": {"knots": 1}}, "scale": 0, "scale_sd": 1},
        {"seen": {}, "scale": float("nan"), "scale_sd": 1},
        {"seen": {"half knot": {"ties": "many"}}, "scale": 0, "scale_sd": 1},
    ],
)
def test_data_that_are_no_paces_are_refused(data: dict[str, object]) -> None:
    with pytest.raises(ValueError, match="no paces"):
        from_data(data)


def test_stated_ranges_add_up_as_independent_times() -> None:
    """Two stated steps: mean and spread by the log-normal's own formulas."""
    told = time_for(Paces(), {}, [(100.0, 400.0), (100.0, 400.0)])
    spread = log(4) / (2 * 1.2815515655446004)
    mean = 2 * 200 * exp(spread**2 / 2)
    expected = mean / exp(log1p((exp(spread**2) - 1) / 2) / 2)
    assert told.likely_s == pytest.approx(expected)
