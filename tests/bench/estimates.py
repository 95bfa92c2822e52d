"""Prints the processor time of all that a key changes in what is reckoned: cord, size, time.

Run: python tests/bench/estimates.py
At 1 %, 50 % and 99 % of some 50,000 ties on 200 strands, after single keys, and after keys that
count the rest of a row, so that every strand is anew.
"""

import statistics
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from in_terminal import HandClock, Sitting, Store, plan_of, start_piece

from coach.session.controller import BenchController
from coach.session.keymap import Keys

STRANDS, TIES = 200, 50_000
PLACES = (0.01, 0.5, 0.99)
KEYS = 60


def timed(what: Callable[[], object]) -> float:
    """Return the processor milliseconds that something takes."""
    begun_s = time.process_time()
    what()
    return (time.process_time() - begun_s) * 1000


def keyed(work: BenchController, clock: HandClock, action: str) -> tuple[float, float]:
    """Press a key; give the milliseconds of the view after it, and of the size in it."""
    clock.go_on(7)
    work.act(action)
    length = work.otherwise().known.length
    return timed(work.view), timed(lambda: (length(work.done), length()))


def main() -> None:
    """Measure at each place of one piece."""
    plan, clock = plan_of(STRANDS, TIES), HandClock()
    print(f"{plan.total} ties on {STRANDS} strands; medians (slowest) of {KEYS} keys, in ms")
    with tempfile.TemporaryDirectory() as folder, Store(Path(folder) / "coach.db") as store:
        number = start_piece(
            store, clock, title="Ebb", project_text="", source="made", total=plan.total
        )
        sitting = Sitting(store, clock, number, [count.knot for count in plan.counts])
        work = BenchController(plan, sitting, clock, Keys())
        for place in PLACES:
            sitting.count(round(plan.total * place) - sitting.state.done)
            work.view()
            for action, keys in (("count", KEYS), ("rest", 20 if place < PLACES[-1] else 2)):
                found = [keyed(work, clock, action) for _ in range(keys)]
                views, sizes = zip(*found, strict=True)
                print(
                    f"{place:4.0%} {action:6} cord, time and words {statistics.median(views):.3f} "
                    f"({max(views):.3f})   size {statistics.median(sizes):.3f} ({max(sizes):.3f})"
                )


if __name__ == "__main__":
    main()
