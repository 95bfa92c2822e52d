"""More keys at random on small screens; as many as are wished for by random_keys.py."""

from pathlib import Path

import pytest
from random_keys import press
from test_bursts import alone

__all__ = ["alone"]


@pytest.mark.parametrize("seed", [1, 2])
def test_random_keys_leave_the_bench_standing(alone: Path, seed: int) -> None:
    assert press(alone, 500, seed, (20, 6))["keys"] >= 500
