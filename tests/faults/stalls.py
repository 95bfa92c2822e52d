"""Presses while the bench is stalled: stopped, its database locked, or its terminal unread.

Every press is in the end a count that is kept, or was told as merged and is given back on one key.
`python tests/faults/stalls.py 20` runs so many stalls of each kind by hand.

Needs POSIX: pseudo-terminals and signals.
"""

import os
import random
import re
import signal
import sqlite3
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Final

ROOT: Final = Path(__file__).parents[2]
sys.path[:0] = [str(ROOT), str(ROOT / "tests"), str(ROOT / "tests" / "terminal")]

from real_terminal import RealTerminal  # noqa: E402 - found on the line above

from coach.piece import Store, list_pieces  # noqa: E402

TOTAL: Final = 2_000
STRAP: Final = f"""coach: 1
title: Stalled strap
cords:
  reed: {{colour: "#5b7f3a", fibre: cotton, diameter: 2 mm, pieces: 2}}
start: {{hang: [2 reed], on: ring}}
work:
  - {{knot: square knot, strands: 1-4, times: {TOTAL}}}
"""
MERGED: Final = re.compile(r"counted\s+once(?:,\s+(\d+)\s+left\s+out)?")


@contextmanager
def locked(home: Path, terminal: RealTerminal) -> Iterator[Callable[[float], None]]:
    """Hold the database as another program may that writes to it for long."""
    other = sqlite3.connect(home / "data" / "coach.db", isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    try:
        yield terminal.read_for
    finally:
        other.execute("ROLLBACK")
        other.close()


@contextmanager
def stopped(home: Path, terminal: RealTerminal) -> Iterator[Callable[[float], None]]:
    """Stop the coach, as a machine does that swaps or is asleep; nothing is read meanwhile."""
    del home
    os.kill(terminal.process.pid, signal.SIGSTOP)
    try:
        yield time.sleep
    finally:
        os.kill(terminal.process.pid, signal.SIGCONT)


@contextmanager
def unread(home: Path, terminal: RealTerminal) -> Iterator[Callable[[float], None]]:
    """Read nothing of what the coach writes, as a terminal does over a line that hangs."""
    del home, terminal
    yield time.sleep


KINDS: Final = {"locked": locked, "stopped": stopped, "unread": unread}


class Stalled:
    """A bench that is stalled again and again, and what was pressed on it."""

    def __init__(self, home: Path) -> None:
        project = home / "strap.yaml"
        project.write_text(STRAP)
        self._home = home
        self.terminal = RealTerminal("knot", str(project), home=str(home), columns=160, settings="")
        self.pressed = self.merged = 0
        self.terminal.until(f"0 of {TOTAL}")

    def stall(self, kind: str, presses: int, apart_s: float) -> int:
        """Press so many times in one stall, then see every press; return how many were merged."""
        terminal = self.terminal
        terminal.rest()
        with KINDS[kind](self._home, terminal) as wait:
            for _ in range(presses):
                os.write(terminal.master, b" ")
                wait(apart_s)
        self.pressed += presses
        terminal.until(lambda text: _done(text) + _told(text) == self.pressed)
        terminal.rest()
        merged = _told(terminal.text)
        if merged:
            self.merged += merged
            terminal.press("=")
        terminal.until(lambda text: _done(text) == self.pressed)
        return merged

    def end(self) -> int:
        """Leave, and return how many counts are kept."""
        self.terminal.until(lambda text: "NOT SAVED" not in text)
        self.terminal.rest()
        self.terminal.press("q")
        assert self.terminal.end() == 0
        with Store(self._home / "data" / "coach.db") as store:
            return list_pieces(store)[0].done


def _done(text: str) -> int:
    found = re.search(rf"(\d+) of {TOTAL}", text)
    return int(found[1]) if found else -1


def _told(text: str) -> int:
    found = MERGED.search(text)
    return int(found[1] or 1) if found else 0


def main(stalls: int, seed: int) -> None:
    rng, begun_s = random.Random(seed), time.monotonic()  # noqa: S311 - keys, no secrets
    for kind in KINDS:
        with tempfile.TemporaryDirectory() as folder:
            bench = Stalled(Path(folder))
            for _ in range(stalls):
                bench.stall(kind, rng.randint(3, 12), rng.uniform(0.2, 0.5))
            kept = bench.end()
        told = f"{kind}: {stalls} stalls, {bench.pressed} pressed, {kept} kept, of them "
        told += f"{bench.merged} merged, told and given back, {time.monotonic() - begun_s:.0f} s\n"
        sys.stdout.write(told)
        sys.stdout.flush()
        assert kept == bench.pressed, "lost"


if __name__ == "__main__":
    main(int(sys.argv[1]), int((*sys.argv, "1")[2]))
