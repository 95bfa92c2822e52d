"""Whether the ranges of time hold on makers whom the estimator never saw: the short form.

Other claims of the file and other crowds stand in pace_calibration_at_length.py; the table over
more makers is printed by tests/bench/pace_calibration.py.
"""

import numpy as np
from simulated_makers import CROWDS, PIECES, Crowd, a_maker, make, plan_of
from told_ranges import Row, Takes, forecast_of, told_to, walked

from coach.pace.estimate import Range, initial_paces, learn_claim
from coach.pace.prior import SKILLS

LONG_PIECES = ("marsh-pot-hanger", "shoreline-hanging", "tide-band")
EARLY = (0.1, 0.25, 0.5)


def assert_early_ranges_hold(takes: Takes) -> None:
    """Over all crowds that the goals name, whatever the file claims; two in three in each."""
    rows = [told_to(crowd, PIECES, 4, seed, takes) for seed, crowd in enumerate(CROWDS)]
    held = [row.held(*EARLY) for row in rows]
    assert 0.75 <= float(np.mean(held)) <= 0.90, held
    assert min(held) >= 0.65, held


def test_ranges_told_early_hold_three_to_four_and_a_half_times_in_five() -> None:
    assert_early_ranges_hold("wrong by 5")


def test_ranges_are_narrow_enough_to_plan_an_evening_by() -> None:
    """Of those who told their skill: at the start, at a quarter, at the start of a second piece."""
    rows = [told_to(crowd, LONG_PIECES, 2, seed, second=True) for seed, crowd in enumerate(CROWDS)]
    whole = Row([t for row in rows for t in row.told], [t for row in rows for t in row.again])
    assert max(t.width for t in whole.told if t.part == 0) <= 2.7
    assert whole.width(0.25) <= 1.45
    assert whole.width_again <= 1.35


def test_at_half_the_likely_figure_is_within_a_tenth_in_the_median() -> None:
    rows = [told_to(crowd, LONG_PIECES, 5, seed) for seed, crowd in enumerate(CROWDS)]
    assert float(np.median([row.off(0.5) for row in rows])) < 0.10


def test_practice_to_come_is_taken_off_what_is_told() -> None:
    """Hands that get half as quick again: by the mean of the first quarter, 1.37 times too long."""
    rng = np.random.default_rng(4)
    crowd = Crowd("quick learners", practice=(0.4, 0.6))
    ratios = []
    for _ in range(30):
        made = make(rng, a_maker(rng, crowd), plan_of("tide-band"), {})
        told, _ = walked(forecast_of("tide-band"), made, initial_paces(), (0.25, 0.5))
        ratios.append([one.range.likely_s / one.truth_s for one in told])
    quarter, half = np.median(ratios, axis=0)
    assert 0.9 < quarter < 1.2
    assert 0.95 < half < 1.1


def told_over(skill: str) -> Range:
    forecast = forecast_of("tide-band")
    return forecast.left(initial_paces(skill), 0)


def test_skill_moves_and_narrows_what_is_told() -> None:
    """Novices take more than twice as long as quick hands; who was not asked might be either."""
    novice, practised, quick = map(told_over, ("new to it", "practised", "quick"))
    unknown = told_over("")
    assert novice.likely_s > 1.8 * practised.likely_s > 2.4 * quick.likely_s
    for skill in filter(None, SKILLS):
        told = told_over(skill)
        assert told.high_s / told.low_s < 0.7 * unknown.high_s / unknown.low_s
    assert unknown.low_s < quick.likely_s < novice.likely_s < unknown.high_s


def test_thirty_ties_at_eight_seconds_are_believed_against_the_file() -> None:
    """The file claims hours; eight seconds a tie make the 182 ties of the hanging half of one."""
    forecast = forecast_of("shoreline-hanging")
    rng = np.random.default_rng(1)
    steady = Crowd("steady", maker_sd=0.0, kind_sd=0.0, tie_sd=(0.1, 0.1), days=0.0)
    made = make(rng, a_maker(rng, steady), plan_of("shoreline-hanging"), {})
    claimed = learn_claim(initial_paces(), forecast.work(0, 186), (18_000.0, 25_200.0))
    ((told,), _) = walked(forecast, made, claimed, (0.17,))
    assert told.range.high_s < 3600
    assert told.holds
