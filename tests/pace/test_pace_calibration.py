"""Whether the ranges of time hold on makers whom the estimator never saw: the quick form.

The table over more makers is printed by tests/bench/pace_calibration.py.
"""

import numpy as np
import pytest
from simulated_makers import CROWDS, PIECES, Crowd, calibrate, pooled, simulate, told

from coach.pace.estimate import Paces, expect, observe, time_for
from coach.pace.prior import prior_s

SMALL = ["bracelet", "wall hanging", "plant hanger"]


def test_ranges_told_at_each_quarter_hold_three_to_four_and_a_half_times_in_five() -> None:
    """Over other paces, spreads, practice, tiredness, interruptions and moods alike."""
    found = pooled([calibrate(crowd, SMALL, 14, seed) for seed, crowd in enumerate(CROWDS)])
    for share in found.inside:
        assert 0.75 <= share <= 0.90, found


def test_at_half_the_likely_figure_is_within_a_tenth_in_the_median() -> None:
    found = [calibrate(crowd, SMALL, 14, seed).error_at_half for seed, crowd in enumerate(CROWDS)]
    assert float(np.median(found)) < 0.10


def test_practice_to_come_is_taken_off_what_is_told() -> None:
    """Hands that get half as quick again: by the mean of the first quarter, 1.37 times too long."""
    rng = np.random.default_rng(4)
    crowd = Crowd("quick learners", practice=(0.4, 0.6), practice_ties=(30.0, 50.0))
    ratios = []
    for _ in range(40):
        both = told(simulate(rng, crowd, PIECES["bracelet"]), (0.25, 0.5))
        ratios.append([rest.likely_s / truth for rest, truth in both])
    quarter, half = np.median(ratios, axis=0)
    assert 0.95 < quarter < 1.2
    assert 0.95 < half < 1.1


def test_a_steady_pace_shows_that_there_is_no_practice_to_come() -> None:
    paces = Paces()
    for _ in range(60):
        paces = observe(paces, "clove hitch", 8.0)
    rest = time_for(paces, {"clove hitch": 100})
    assert rest.likely_s == pytest.approx(800, rel=0.06)


def test_hands_are_taken_to_be_new_to_each_knot_by_itself() -> None:
    """After many clove hitches the next ones hold no practice; square knots still do."""
    paces = Paces()
    for seconds in 10 * np.exp(0.4 * np.exp(-np.arange(200) / 40)):
        paces = observe(paces, "clove hitch", float(seconds))
    assert time_for(paces, {"clove hitch": 10}).likely_s == pytest.approx(100, rel=0.08)
    one = time_for(paces, {"square knot": 1}).likely_s
    many = time_for(paces, {"square knot": 400}).likely_s / 400
    assert one > 1.1 * many


def test_a_slow_evening_is_followed() -> None:
    """Of a thousand ties at one pace the last hundred, a third slower, decide."""
    paces = Paces()
    for seconds in [9.0] * 900 + [12.0] * 100:
        paces = observe(paces, "half hitch", seconds)
    assert expect(paces, "half hitch") > 11
    assert prior_s("half hitch") < 9
