"""More keys at random, mostly on small screens; as many as are wished for by random_keys.py."""

from itertools import product
from pathlib import Path

import pytest
from random_keys import press, press_pairs
from test_bursts import AROUND, alone

__all__ = ["alone"]


@pytest.mark.parametrize(
    ("keys", "seed", "size"),
    [(500, 0, (20, 6)), (500, 1, (1, 9)), (300, 2, (80, 24)), (500, 1, (20, 6)), (500, 2, (20, 6))],
)
def test_random_keys_leave_the_bench_standing(
    alone: Path, keys: int, seed: int, size: tuple[int, int]
) -> None:
    assert press(alone, keys, seed, size)["keys"] >= keys


@pytest.mark.parametrize("screen", sorted({*AROUND} - {"ask"}))
def test_any_two_keys_on_the_screens_around_the_work_leave_a_screen_that_answers(
    alone: Path, screen: str
) -> None:
    press_pairs(alone, screen, [*product(AROUND[screen], repeat=2)])
