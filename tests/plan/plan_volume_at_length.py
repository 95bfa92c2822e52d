"""Large work of steps of one tie, and of windows on the board, is compiled in seconds."""

import pytest
from test_plan_volume import TIE, WINDOWS, followed


@pytest.mark.parametrize(("step", "times"), [(TIE, 200_000), (WINDOWS, 50_000)])
def test_two_hundred_thousand_ties_are_followed_in_seconds(step: str, times: int) -> None:
    followed(step, times, 200_000)
