"""Whether the ranges of time hold whatever the file claims, and on other crowds of makers."""

import numpy as np
import pytest
from simulated_makers import OTHERS, PIECES
from test_pace_calibration import EARLY, assert_early_ranges_hold
from told_ranges import Takes, told_to


@pytest.mark.parametrize("takes", ["missing", "right"])
def test_ranges_told_early_hold_three_to_four_and_a_half_times_in_five(takes: Takes) -> None:
    assert_early_ranges_hold(takes)


def test_ranges_hold_on_other_crowds_as_well() -> None:
    """Paces far from the trade's, practice of two kinds, moods, skill not asked, all together."""
    calmer = [crowd for crowd in OTHERS if crowd.name != "wide spreads"]
    rows = [told_to(crowd, PIECES, 4, seed) for seed, crowd in enumerate(calmer)]
    assert 0.75 <= float(np.mean([row.held(*EARLY) for row in rows])) <= 0.90
