"""Prints how long a key takes to the screen, on the bench and on the barest app, key by key.

Run: python tests/bench/keys.py [KEYS SECONDS]
So many single keys on both in turn, then 40 keys a second for so many seconds. The bench stores
each count in between.
"""

import os
import random
import re
import statistics
import sys
import tempfile
import time
from collections.abc import Callable
from typing import IO

from in_terminal import Terminal, bench_and_bare

STRANDS, TIES, DONE = 24, 10_000, 3_000
APART_S = 0.3  # longer than a key bounces
PATIENCE_S = 10
RESTED_S = 2  # after which a start is over
A_SECOND = 40
ENDS_S = 5  # at the beginning and at the end, held against each other


def figure_on(terminal: Terminal, pattern: str) -> Callable[[], int]:
    """Return what reads the count from a terminal's screen."""
    return lambda: int((re.findall(pattern, terminal.text) or ["-1"])[-1])


def single(terminal: Terminal, figure: Callable[[], int], wanted: int) -> tuple[float, float]:
    """Return the milliseconds from one key to its figure, and of the processor until the next."""
    terminal.read_for(0.01)
    terminal.shown(lambda _: False)
    used_s = terminal.processor_s()
    pressed_s, came_s = terminal.press(" "), None
    while came_s is None:
        terminal.read_for(APART_S + random.uniform(0, 0.05))  # noqa: S311 - no secret
        assert time.monotonic() < pressed_s + PATIENCE_S, f"never shown: {wanted}\n{terminal.text}"
        came_s = terminal.shown(lambda _: figure() == wanted)
    return (came_s - pressed_s) * 1000, (terminal.processor_s() - used_s) * 1000


def disk_alone(file: IO[bytes]) -> float:
    """Return the milliseconds that the disk takes for two pages, as they come with a count."""
    begun_s = time.monotonic()
    file.write(b"x" * 8192)
    os.fdatasync(file.fileno())
    return (time.monotonic() - begun_s) * 1000


def stream(terminal: Terminal, figure: Callable[[], int], first: int, keys: int) -> list[float]:
    """Send keys at an even pace; give the milliseconds after which each was counted."""
    begun_s, pressed_s = time.monotonic(), []
    for number in range(keys):
        terminal.read_for(begun_s + number / A_SECOND - time.monotonic())
        pressed_s.append(terminal.press(" "))
    terminal.read_for(1)
    delays: list[float] = []
    while waiting := pressed_s[len(delays) :]:
        shown = first + len(delays)
        came_s = terminal.shown(lambda _, shown=shown: figure() > shown)
        assert came_s is not None, f"lost: {len(waiting)} keys\n{terminal.text}"
        delays += [(came_s - at_s) * 1000 for at_s in waiting[: figure() - shown]]
    return delays


def told(name: str, delays: list[float]) -> float:
    """Print the median and the slowest of some delays; give the median."""
    median = statistics.median(delays)
    slow = statistics.quantiles(delays, n=100)[98]
    print(
        f"{name:8} median {median:6.2f} ms   99 of 100 under {slow:6.2f} ms ({slow - median:+.2f})"
    )
    return median


def main(singles: int, seconds: int) -> None:
    """Measure single keys by turns, then a stream of them."""
    with (
        bench_and_bare(STRANDS, TIES, DONE, settings="bounce: 0\n") as (bench, bare, total),
        tempfile.TemporaryFile(buffering=0) as file,
    ):
        both = (
            ("bench", bench, figure_on(bench, rf"(\d+) of {total}\b"), DONE),
            ("bare", bare, figure_on(bare, r"(\d+) made"), 0),
        )
        delays: dict[str, list[float]] = {name: [] for name, *_ in both}
        used: dict[str, list[float]] = {name: [] for name, *_ in both}
        disk = []
        for _, terminal, *_ in both:
            terminal.read_for(RESTED_S)
        for number in range(1, singles + 1):
            disk.append(disk_alone(file))
            for name, terminal, figure, first in both:
                delay, processor = single(terminal, figure, first + number)
                delays[name].append(delay)
                used[name].append(processor)
        kept, shown, alone = (told(n, d) for n, d in ((*delays.items(), ("disk", disk))))
        print(f"key to paint: {kept / shown:.2f} times the bare app, {singles} keys each;")
        print(f"without what the disk takes alone {(kept - alone) / shown:.2f} times")
        ours, bares = (statistics.median(each) for each in used.values())
        print(f"processor ms a key: bench {ours:.2f}, bare {bares:.2f}: {ours / bares:.2f} times")
        for name, terminal, figure, first in both:
            keys, ends = seconds * A_SECOND, ENDS_S * A_SECOND
            flow = stream(terminal, figure, first + singles, keys)
            early, late = statistics.median(flow[:ends]), statistics.median(flow[-ends:])
            print(
                f"{name}: {keys} keys at {A_SECOND} a second, none lost; median of the first "
                f"{ENDS_S} s {early:.2f} ms, of the last {late:.2f} ms"
            )


if __name__ == "__main__":
    numbers = [int(word) for word in sys.argv[1:]]
    main(*(numbers or (300, 30)))
