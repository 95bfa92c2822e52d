"""The bench on a terminal that shows images, with the libraries of the extra: run by hand.

After pip install -e '.[test,pixels]': pytest tests/bench_screens/pixels_by_hand.py. The tests of
the suite do without these libraries. The replies are written as the pages of xterm and of the
protocol have them (from memory).

Needs POSIX: pseudo-terminals.
"""

import os
from pathlib import Path

import pytest
from real_terminal import RealTerminal, shows

SIXEL = "\x1b[6;20;10t\x1b[?64;1;2;4;6;9;15;18;21;22c"
PNG = "\x1b_Gi=4107;OK\x1b\\\x1b[6;20;10t\x1b[?62;c"


@pytest.mark.parametrize(("replies", "begins"), [(SIXEL, "\x1bP0"), (PNG, "\x1b_Ga=T,f=100")])
def test_tiles_are_laid_over_the_cells_after_a_count(
    tmp_path: Path, replies: str, begins: str
) -> None:
    with RealTerminal("knot", "reed-keyring", home=str(tmp_path)) as bench:
        bench.until("of 27")
        assert "\x1b_Gi=4107" in bench.written
        os.write(bench.master, replies.encode())
        bench.read_for(4)
        first = bench.written.count(begins)
        assert first >= 2
        bench.press(" ")
        bench.until(shows(1, 27))
        bench.read_for(4)
        assert bench.written.count(begins) > first
        assert bench.written.rindex(begins) > bench.written.index("1 of 27")
        bench.press("q")
        bench.drain()
