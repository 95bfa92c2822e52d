"""No press is lost in a stall: it is kept, or told as merged and given back on one key.

A stall of each kind takes seconds by itself; the large numbers are run by hand with the same code.
"""

from pathlib import Path

import pytest
from stalls import KINDS, Stalled


@pytest.mark.parametrize("kind", KINDS)
def test_every_press_in_a_stall_is_kept_or_told_and_given_back(tmp_path: Path, kind: str) -> None:
    bench = Stalled(tmp_path)
    try:
        merged = [bench.stall(kind, 6, 0.35) for _ in range(2)]
        assert bench.end() == bench.pressed == 12
    finally:
        bench.terminal.process.end()
    assert any(merged) == (kind == "stopped"), "what is read in one go cannot be told apart"
