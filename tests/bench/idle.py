"""Prints the processor time that the bench takes while nobody knots, against the barest app.

Run: python tests/bench/idle.py [SECONDS]
Both run side by side. The bare app has a clock of a second that changes its line.
"""

import statistics
import sys

from in_terminal import Terminal, bench_and_bare

STRANDS, TIES, DONE = 24, 10_000, 200
WINDOWS = 20


def used_in(terminals: dict[str, Terminal], seconds: float) -> dict[str, float]:
    """Return the processor milliseconds that each takes within a time."""
    before = {name: terminal.processor_s() for name, terminal in terminals.items()}
    for terminal in terminals.values():
        terminal.read_for(seconds / len(terminals))
    return {n: (t.processor_s() - before[n]) * 1000 for n, t in terminals.items()}


def main(seconds: float) -> None:
    """Measure both in windows of the same time."""
    with bench_and_bare(STRANDS, TIES, DONE, "timer") as (bench, bare, _):
        terminals = {"bench": bench, "bare": bare}
        used_in(terminals, 5)
        windows = [used_in(terminals, seconds / WINDOWS) for _ in range(WINDOWS)]
    ratios = [window["bench"] / window["bare"] for window in windows]
    for name in terminals:
        print(f"{name:6}{sum(window[name] for window in windows):8.0f} ms in {seconds:.0f} s")
    whole = sum(w["bench"] for w in windows) / sum(w["bare"] for w in windows)
    middle = statistics.median(ratios)
    print(f"idle: {whole:.2f} times the bare app; median of {WINDOWS} windows {middle:.2f}")


if __name__ == "__main__":
    main(float(sys.argv[1]) if len(sys.argv) > 1 else 60.0)
