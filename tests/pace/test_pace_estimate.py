"""Paces learnt from stretches of counts, and the ranges that they give."""

from dataclasses import dataclass
from itertools import pairwise
from math import exp, hypot, log

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from coach.pace.estimate import (
    DAY_SD,
    HAND,
    KIND_SD,
    MODEL_SD,
    MOST_UNKNOWNS,
    OTHER_CORD_SD,
    STRETCH_S,
    TIE_VARIANCE,
    Paces,
    Range,
    discard_stretch,
    expected_seconds,
    initial_paces,
    learn_claim,
    learn_stretch,
    learn_time,
    new_day,
    new_piece,
    time_for,
)
from coach.pace.pace_json import from_data, to_data
from coach.pace.prior import (
    HANDLING,
    LONGEST_END_M,
    PASSES,
    SKILLS,
    STEP_S,
    STEP_STRAND_S,
    WAIT,
    least_s,
    pass_s,
    prior_s,
)
from coach.pace.work_amount import WorkAmount, ties

CLOVE = "clove hitch"
WALL_HANGING = [
    *(["lark's head"] * 12),
    *((["clove hitch"] * 5 + ["square knot"] * 3 + ["half knot"] * 2) * 20),
    *(["gathering knot"] * 2),
]


def tied(paces: Paces, times: "list[float] | np.ndarray", knot: str = CLOVE) -> Paces:
    """Tie a knot again and again, counting each."""
    for seconds in times:
        paces = learn_time(paces, ties(knot), float(seconds), least_s(knot))
    return learn_stretch(paces)


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


def left_after(done: int) -> WorkAmount:
    work = WorkAmount()
    for knot in sorted(set(left := WALL_HANGING[done:])):
        work = work.and_also(ties(knot, left.count(knot)))
    return work


def shares_inside(hands: Hands, seed: int, makers: int = 100) -> dict[float, float]:
    """The share of makers whose real remaining time fell in the range told beforehand."""
    rng = np.random.default_rng(seed)
    told_at = {int(part * len(WALL_HANGING)): part for part in (0.0, 0.2, 0.5)}
    inside = dict.fromkeys(told_at.values(), 0)
    for _ in range(makers):
        times, paces = a_maker(rng, hands), initial_paces()
        for i, knot in enumerate(WALL_HANGING[: max(told_at) + 1]):
            if i in told_at:
                told = time_for(paces, left_after(i))
                inside[told_at[i]] += told.low_s <= times[i:].sum() <= told.high_s
            paces = learn_time(paces, ties(knot), float(times[i]))
    return {part: hits / makers for part, hits in inside.items()}


@pytest.mark.parametrize(
    ("hands", "seed"),
    [
        (Hands(maker_sd=0.6, knot_sd=0.25, tie_sd=(0.35, 0.6)), 11),
        (Hands(maker_sd=0.6, slips=0.02), 12),
        (Hands(maker_sd=0.6, practice=0.04, mood=0.2), 13),
    ],
)
def test_about_eight_in_ten_real_times_fall_inside(hands: Hands, seed: int) -> None:
    """Told at the start, after a fifth and at half, on makers whom nobody asked for their skill."""
    for part, share in shares_inside(hands, seed).items():
        assert 0.70 <= share <= 0.92, (part, share)


def test_ranges_narrow_as_the_maker_is_known() -> None:
    rng = np.random.default_rng(5)
    times, paces = a_maker(rng, Hands()), initial_paces()
    widths = []
    for i, knot in enumerate(WALL_HANGING[:120]):
        if i in (0, 20, 100):
            told = time_for(paces, left_after(i))
            widths.append(told.high_s / told.low_s)
        paces = learn_time(paces, ties(knot), float(times[i]))
    assert all(wide > narrow for wide, narrow in pairwise(widths))


def test_a_single_unseen_tie_has_the_log_normal_quantiles_of_the_model() -> None:
    """Closed form against quantiles drawn with numpy from the same spreads."""
    rng = np.random.default_rng(3)
    skill = SKILLS["practised"]
    sd = hypot(skill.hand.sd, skill.practice.sd, KIND_SD, DAY_SD, MODEL_SD, TIE_VARIANCE**0.5)
    median = prior_s(CLOVE) * exp(skill.practice.mean - TIE_VARIANCE / 2)
    drawn = np.quantile(median * np.exp(rng.normal(0, sd, 400_000)), [0.1, 0.5, 0.9])
    told = time_for(initial_paces("practised"), ties(CLOVE))
    assert [told.low_s, told.likely_s, told.high_s] == pytest.approx(drawn, rel=0.02)


def test_before_anything_is_seen_the_standard_time_is_expected_of_practised_hands() -> None:
    """Once they are used to the knot; a first tie takes longer."""
    many = expected_seconds(initial_paces("practised"), ties(CLOVE, 10_000)) / 10_000
    assert many == pytest.approx(prior_s(CLOVE), rel=0.01)
    assert expected_seconds(initial_paces("practised"), ties(CLOVE)) > 1.05 * many


def test_uncertainty_of_the_pace_is_shared_by_all_ties() -> None:
    """A thousand ties are hardly less uncertain than a hundred: the pace is one for all."""
    hundred = time_for(initial_paces(), ties("square knot", 100))
    thousand = time_for(initial_paces(), ties("square knot", 1000))
    assert thousand.likely_s == pytest.approx(10 * hundred.likely_s, rel=0.08)
    assert thousand.high_s / thousand.low_s > 0.95 * hundred.high_s / hundred.low_s


def test_hands_may_still_change_however_much_was_seen() -> None:
    """A long rest of the work is never told closer than some hundredths either way."""
    told = time_for(tied(initial_paces(), [8.0] * 1000), ties(CLOVE, 10_000))
    assert told.low_s < 0.95 * told.likely_s
    assert told.high_s > 1.05 * told.likely_s


def test_a_steady_pace_is_learnt() -> None:
    paces = tied(initial_paces(), [14.0] * 60)
    assert expected_seconds(paces, ties(CLOVE)) == pytest.approx(14.0, rel=0.05)


def test_a_steady_pace_shows_that_there_is_no_practice_to_come() -> None:
    rest = time_for(tied(initial_paces(), [8.0] * 60), ties(CLOVE, 100))
    assert rest.likely_s == pytest.approx(800, rel=0.06)


def test_hands_are_taken_to_be_new_to_each_knot_by_itself() -> None:
    """After many clove hitches the next ones hold no practice; square knots still do."""
    paces = tied(initial_paces(), 10 * np.exp(0.4 * np.exp(-np.arange(200) / 40)))
    assert time_for(paces, ties(CLOVE, 10)).likely_s == pytest.approx(100, rel=0.08)
    one = time_for(paces, ties("square knot")).likely_s
    many = time_for(paces, ties("square knot", 400)).likely_s / 400
    assert one > 1.1 * many


def test_a_slow_maker_of_one_knot_is_expected_to_be_slow_at_another() -> None:
    paces = tied(initial_paces(), [20.0] * 40)
    assert expected_seconds(paces, ties("square knot")) > 1.4 * expected_seconds(
        initial_paces(), ties("square knot")
    )


@pytest.mark.parametrize("kind", [HANDLING, "trim", "plait"])
def test_work_without_a_knot_is_learnt_like_a_knot(kind: str) -> None:
    """Twelve steps, each of which takes twice its standard time, among ties at theirs."""
    paces = initial_paces("practised")
    for _ in range(12):
        paces = tied(paces, [prior_s(CLOVE)] * 5)
        paces = learn_stretch(learn_time(paces, WorkAmount({kind: 20.0}, 400.0), 40.0))
    assert expected_seconds(paces, WorkAmount({kind: 20.0}, 400.0)) == pytest.approx(40.0, rel=0.15)
    assert expected_seconds(paces, ties(CLOVE)) == pytest.approx(prior_s(CLOVE), rel=0.1)


def test_what_is_seen_of_a_mixture_tells_its_parts_apart() -> None:
    """Rows of one holder and of few or many ties: the holder takes three times the usual."""
    paces = initial_paces("practised")
    for number in [2, 9] * 20:
        work = ties(CLOVE, number).and_also(WorkAmount({HANDLING: 5.0}, 25.0))
        paces = learn_stretch(learn_time(paces, work, number * prior_s(CLOVE) + 15.0))
    assert expected_seconds(paces, WorkAmount({HANDLING: 5.0})) == pytest.approx(15.0, rel=0.25)


def test_one_wild_time_hardly_moves_a_known_pace() -> None:
    paces = tied(initial_paces(), [8.0] * 30)
    before = expected_seconds(paces, ties(CLOVE))
    assert expected_seconds(tied(paces, [800.0]), ties(CLOVE)) < 1.1 * before


def test_a_row_counted_at_once_teaches_about_what_its_ties_would() -> None:
    rng = np.random.default_rng(8)
    singly, by_rows = initial_paces(), initial_paces()
    for _ in range(30):
        row = 12 * np.exp(rng.normal(0, 0.4, 6))
        by_rows = learn_time(by_rows, ties(CLOVE, 6), float(row.sum()))
        singly = tied(singly, row)
    one, other = (
        expected_seconds(learn_stretch(by_rows), ties(CLOVE)),
        expected_seconds(singly, ties(CLOVE)),
    )
    assert one == pytest.approx(other, rel=0.08)


def test_counts_that_come_late_and_in_bursts_show_the_pace_of_the_ties() -> None:
    """Three ties of 8 s and then three presses: neither 24 s nor half a second is a pace."""
    paces = tied(initial_paces(), [24.0, 0.4, 0.4] * 30)
    assert expected_seconds(paces, ties(CLOVE)) == pytest.approx(8.27, rel=0.1)


def test_bursts_of_any_length_make_hands_neither_slow_nor_wild() -> None:
    """Ties of 8 s, four in five of which are counted only after one or more others are tied."""
    rng = np.random.default_rng(1)
    paces, waiting, since = initial_paces(), 0, 0.0
    for _ in range(1000):
        waiting, since = waiting + 1, since + 8 * float(np.exp(rng.normal(0, 0.2)))
        if rng.random() < 0.2:
            for gap in [since] + [0.4] * (waiting - 1):
                paces = learn_time(paces, ties(CLOVE), gap, least_s(CLOVE))
            waiting, since = 0, 0.0
    paces = learn_stretch(paces)
    assert expected_seconds(paces, ties(CLOVE)) == pytest.approx(8.4, rel=0.1)
    assert paces.tie_variance < 0.2


@pytest.mark.parametrize("forgotten", [1, 12, 60])
def test_tapping_off_forgotten_counts_after_a_pause_shows_no_pace(forgotten: int) -> None:
    start = tied(initial_paces(), [8.0] * 20)
    paces = start
    for _ in range(forgotten):
        paces = learn_time(paces, ties(CLOVE), 0.4, least_s(CLOVE))
    assert paces.known == start.known
    assert time_for(paces, ties("square knot")) == time_for(start, ties("square knot"))


def test_a_whole_part_counted_at_once_shows_no_pace() -> None:
    """Two hundred ties were forgotten, and are counted eight seconds after the last one."""
    start = tied(initial_paces(), [8.0] * 20)
    paces = learn_time(start, ties(CLOVE), 8.0, least_s(CLOVE))
    paces = learn_stretch(learn_time(paces, ties(CLOVE, 200), 8.0, 200 * least_s(CLOVE)))
    assert paces.known == start.known


def test_a_stretch_of_which_some_was_taken_back_shows_no_pace() -> None:
    start = tied(initial_paces(), [8.0] * 20)
    paces = discard_stretch(learn_time(start, ties(CLOVE), 30.0))
    assert paces.known == start.known
    assert paces.open is None


def test_the_stretch_under_way_is_heard_before_it_is_over() -> None:
    """Three slow ties are less than a stretch, and what is told follows them."""
    assert 3 * prior_s(CLOVE) < STRETCH_S
    paces = initial_paces("practised")
    for _ in range(3):
        paces = learn_time(paces, ties(CLOVE), 20.0)
    assert time_for(paces, ties(CLOVE, 50)).likely_s > 1.3 * 50 * prior_s(CLOVE)


@pytest.mark.parametrize("seconds", [0.0, -3.0, float("nan"), float("inf")])
def test_a_time_that_is_none_teaches_nothing(seconds: float) -> None:
    assert (
        learn_stretch(learn_time(initial_paces(), ties(CLOVE), seconds)).known
        == initial_paces().known
    )


def test_a_pace_that_changes_is_followed() -> None:
    """After 600 slow ties, 300 quick ones bring the pace most of the way."""
    paces = tied(initial_paces(), [16.0] * 600 + [8.0] * 300)
    assert expected_seconds(paces, ties(CLOVE)) < 11.5


def test_a_slow_evening_is_followed() -> None:
    """Of a thousand ties at one pace the last hundred, a third slower, decide."""
    paces = tied(initial_paces(), [9.0] * 900 + [12.0] * 100, "half hitch")
    assert expected_seconds(paces, ties("half hitch")) > 11
    assert prior_s("half hitch") < 9


def test_a_new_day_goes_most_of_the_way_back_from_a_slow_one() -> None:
    usual = tied(initial_paces(), [9.0] * 300)
    for _ in range(4):
        usual = tied(new_day(usual), [9.0] * 100)
    slow = tied(new_day(usual), [10.5] * 60)
    today, tomorrow = (expected_seconds(paces, ties(CLOVE)) for paces in (slow, new_day(slow)))
    assert tomorrow < today - 0.3
    assert tomorrow < 10.0


def test_spread_from_tie_to_tie_is_learnt() -> None:
    rng = np.random.default_rng(2)
    steady = tied(initial_paces(), 8 * np.exp(rng.normal(0, 0.2, 800))).tie_variance
    wild = tied(initial_paces(), 8 * np.exp(rng.normal(0, 0.6, 800))).tie_variance
    assert steady == pytest.approx(0.2**2, rel=0.25)
    assert wild == pytest.approx(np.expm1(0.6**2), rel=0.25)


def test_what_a_file_claims_is_a_weak_word() -> None:
    """It moves what is told some of the way towards it, and a wild one hardly farther."""
    work = ties(CLOVE, 300)
    plain = time_for(initial_paces("practised"), work).likely_s
    for off in (0.2, 0.5, 2.0, 5.0):
        claimed = learn_claim(initial_paces("practised"), work, (plain * off, plain * off))
        moved = log(time_for(claimed, work).likely_s / plain) / log(off)
        assert 0.05 < moved < 0.4
    twice, five = (
        time_for(
            learn_claim(initial_paces("practised"), work, (plain * n, plain * n)), work
        ).likely_s
        for n in (2.0, 5.0)
    )
    assert five < 1.35 * twice


def test_a_claim_is_held_against_the_skill_that_it_is_made_for() -> None:
    """What novices take, said for novices, tells practised hands nothing new."""
    work = ties(CLOVE, 300)
    for_novices = expected_seconds(initial_paces("new to it"), work)
    paces = learn_claim(initial_paces("practised"), work, (for_novices, for_novices), "new to it")
    plain = time_for(initial_paces("practised"), work).likely_s
    assert time_for(paces, work).likely_s == pytest.approx(plain, rel=0.01)


def test_a_claim_leaves_waiting_alone() -> None:
    """Of 4000 s for the whole, 3000 s of waiting are not the hands' doing."""
    work = ties(CLOVE, 100)
    whole = work.and_also(WorkAmount({WAIT: 3000.0}))
    paces = learn_claim(initial_paces(), whole, (4000.0, 4000.0))
    assert abs(log(time_for(paces, work).likely_s / 1000)) < abs(
        log(time_for(initial_paces(), work).likely_s / 1000)
    )
    assert time_for(paces, whole).low_s > 3000


@pytest.mark.parametrize(
    ("work", "takes"),
    [
        (WorkAmount(), (600.0, 600.0)),
        (ties(CLOVE), (0.0, 0.0)),
        (WorkAmount({WAIT: 60.0}), (600.0, 900.0)),
    ],
)
def test_a_claim_that_says_nothing_changes_nothing(
    work: WorkAmount, takes: tuple[float, float]
) -> None:
    assert learn_claim(initial_paces(), work, takes) == initial_paces()


def test_a_claim_is_outweighed_by_what_is_seen() -> None:
    work = ties(CLOVE, 200)
    paces = tied(learn_claim(initial_paces(), work, (7000.0, 7000.0)), [8.0] * 80)
    assert expected_seconds(paces, ties(CLOVE)) == pytest.approx(8.0, rel=0.1)


def test_a_second_piece_begins_where_the_first_one_ended() -> None:
    """A kind that is only known in another cord is less sure."""
    paces = tied(initial_paces(), [14.0] * 120)
    here, there = new_piece(paces), new_piece(paces, {CLOVE})
    assert expected_seconds(here, ties(CLOVE)) == pytest.approx(14.0, rel=0.05)
    work = ties(CLOVE, 100)
    widths = [(told := time_for(p, work)).high_s / told.low_s for p in (here, there)]
    assert widths[0] < 1.35 < widths[1]
    assert there.known.belief(CLOVE).sd >= OTHER_CORD_SD


def test_nothing_left_takes_no_time_and_waiting_takes_its_own() -> None:
    assert time_for(initial_paces(), WorkAmount()) == Range(0.0, 0.0, 0.0)
    assert time_for(initial_paces(), WorkAmount({WAIT: 600.0})) == Range(600.0, 600.0, 600.0)


def test_every_standard_time_is_a_time() -> None:
    figures = [*STEP_S.values(), *STEP_STRAND_S.values(), *(p.each_s for p in PASSES.values())]
    assert all(0 < seconds <= 300 for seconds in figures)
    assert prior_s(CLOVE) == 2 * prior_s("half hitch")
    assert prior_s("a knot of the future") > 0
    assert all(least_s(knot) < prior_s(knot) / 3 for knot in PASSES)


def test_a_pass_takes_longer_with_more_end_to_pull_through() -> None:
    """Up to the length from which ends are bundled."""
    short, long, bundled = (pass_s(CLOVE, end_m) for end_m in (0.1, LONGEST_END_M, 4.0))
    assert short < long == bundled


def test_work_of_any_number_of_kinds_is_taken_in() -> None:
    """A piece from elsewhere may name what it likes; what is known stays small, and sense."""
    paces = initial_paces()
    for start in range(0, 300, 30):
        work = WorkAmount({f"kind {n}": 30.0 for n in range(start, start + 30)}, 900.0)
        paces = learn_stretch(learn_time(paces, work, 1200.0))
    assert len(paces.known.unknowns) == MOST_UNKNOWNS
    assert time_for(paces, work).likely_s == pytest.approx(1200, rel=0.2)


looks = st.lists(
    st.tuples(
        st.sampled_from([CLOVE, "square knot", "gathering knot"]),
        st.floats(0.01, 10_000),
        st.integers(1, 40),
    ),
    max_size=25,
)


@given(looks)
def test_ranges_are_in_order_and_paces_can_be_kept(seen: list[tuple[str, float, int]]) -> None:
    """Whatever was seen, low < likely < high, and data gives back the same paces."""
    paces = initial_paces()
    for knot, seconds, number in seen:
        paces = learn_time(paces, ties(knot, number), seconds, number * least_s(knot))
    told = time_for(paces, ties(CLOVE, 7).and_also(ties("half knot", 3)))
    assert 0 < told.low_s < told.likely_s < told.high_s < float("inf")
    assert from_data(to_data(paces)) == paces


def test_paces_of_the_first_form_are_read() -> None:
    """As a mean for each knot, log(seconds / the trade's), with the ties that it rests on."""
    seen = {"ties": 60.0, "looks": 60.0, "mean": log(2.0), "squares": 1.0, "made": 200.0}
    paces = from_data({"seen": {CLOVE: seen}, "scale": 0.1, "scale_sd": 0.45})
    assert expected_seconds(paces, ties(CLOVE)) == pytest.approx(2 * prior_s(CLOVE), rel=0.1)


GOOD = to_data(initial_paces())


@pytest.mark.parametrize(
    "data",
    [
        {},
        {"seen": []},
        {"seen": {"half knot": {"ties": 0}}},
        {"seen": {"half knot": {"ties": "many", "mean": 0}}},
        {**GOOD, "means": GOOD["means"][:-1]},
        {**GOOD, "means": [float("nan")] * 3},
        {**GOOD, "means": [1e9, 0, 0]},
        {**GOOD, "covariance": [[1.0]]},
        {**GOOD, "covariance": [[-1.0, 0, 0]] * 3},
        {**GOOD, "covariance": [[1e9, 0, 0], [0, 1, 0], [0, 0, 1]]},
        {**GOOD, "covariance": [[float("inf"), 0, 0], [0, 1, 0], [0, 0, 1]]},
        {**GOOD, "unknowns": [HAND] * 3},
        {**GOOD, "unknowns": ["one", "two", "three"]},
        {**GOOD, "tie_variance": 0},
        {**GOOD, "tie_variance": 1e9},
        {**GOOD, "made": {"half knot": -1}},
        {**GOOD, "made": []},
        {**GOOD, "open": [{}, 1]},
        {**GOOD, "open": "yes"},
    ],
)
def test_data_that_are_no_paces_are_refused(data: dict[str, object]) -> None:
    with pytest.raises(ValueError, match="no paces"):
        from_data(data)
