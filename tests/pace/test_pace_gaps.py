"""What of the time between two counts was work."""

import pytest

from coach.pace.working_time import Gap, worked_gap


def test_a_usual_gap_is_all_work_and_shows_the_pace() -> None:
    assert worked_gap(9.5, 8.0) == Gap(9.5, shows_pace=True)


@pytest.mark.parametrize("gap_s", [61.0, 600.0, 9 * 3600.0])
def test_a_gap_far_beyond_the_pace_counts_as_the_pace(gap_s: float) -> None:
    assert worked_gap(gap_s, 8.0) == Gap(8.0, shows_pace=False)


def test_what_is_far_depends_on_the_pace() -> None:
    """Ten minutes over a gathering knot of two and a half are work; twenty are not."""
    assert worked_gap(600.0, 150.0) == Gap(600.0, shows_pace=True)
    assert worked_gap(1200.0, 150.0) == Gap(150.0, shows_pace=False)


def test_a_beginner_far_slower_than_the_trade_is_still_seen() -> None:
    assert worked_gap(55.0, 4.0).shows_pace


def test_a_clock_that_ran_back_gives_no_time() -> None:
    assert worked_gap(-5.0, 8.0) == Gap(0.0, shows_pace=True)
