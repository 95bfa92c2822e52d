"""Every pair of keys in one write, on every screen of the bench in a real terminal."""

import pytest
from bursts import KEYS, Walk, bursts
from test_bursts import walk

__all__ = ["walk"]


@pytest.mark.parametrize("screen", KEYS)
def test_two_keys_of_one_write_each_meet_the_screen_that_is_current(
    walk: Walk, screen: str
) -> None:
    for burst in bursts(screen, 2):
        walk.burst(screen, burst)
    assert walk.bursts > 2 * len(KEYS[screen])
