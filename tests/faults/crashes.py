"""Kills counting programs at random moments and holds what is kept against what was shown.

`python tests/faults/crashes.py store 200`, `... terminal 200` and `... writers 10000` run by hand
what the tests run in small.

Needs POSIX: pseudo-terminals.
"""

import random
import re
import sys
import tempfile
import time
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).parents[2]
TESTS = ROOT / "tests"
sys.path[:0] = [str(ROOT), str(TESTS), str(TESTS / "terminal"), str(TESTS / "piece")]

from forks import Piped  # noqa: E402 - found on the line above when run by hand
from real_terminal import RealTerminal  # noqa: E402 - the same

from coach.piece import Store, SystemClock, look, start_piece  # noqa: E402
from coach.piece.events import Counted  # noqa: E402

SHOWN = re.compile(r"(?<!\d)(\d+) of 27\b")


@dataclass
class Outcome:
    """What came of killing: how often, how many counts were shown, kept too few or too many."""

    times: int = 0
    shown: int = 0
    lost: int = 0
    most_beyond: int = 0  # counts that were stored and not yet shown

    def compare(self, shown: int, kept: int) -> None:
        self.times += 1
        self.lost += max(0, shown - kept)
        self.most_beyond = max(self.most_beyond, kept - shown)


def begun(database: Path, total: int) -> int:
    with Store(database) as store:
        return start_piece(
            store, SystemClock(), title="Ebb", project_text="coach: 1", source="x", total=total
        )


def child(database: Path, piece_id: int, manner: str) -> Piped:
    return Piped("counting_child", "main", [str(database), str(piece_id), manner])


def kill_counting(folder: Path, times: int, rng: random.Random) -> Outcome:
    """Kill -9 a program that counts in a loop and prints each count once it is stored."""
    database = folder / "coach.db"
    piece_id, outcome, kept = begun(database, 250_000), Outcome(), 0
    for _ in range(times):
        with child(database, piece_id, "unbidden") as counting:
            shown = [counting.stdout.readline() for _ in range(rng.randrange(1, 40))]
            counting.kill()
            shown += counting.stdout.readlines()
        whole = [int(line) for line in shown if line.endswith("\n")]
        last = whole[-1] if whole else kept
        assert whole == list(range(kept + 1, last + 1)), "none doubled, none out of order"
        with Store(database) as store:
            kept = look(store, piece_id).done
        outcome.shown += len(whole)
        outcome.compare(last, kept)
    return outcome


def kill_bench(folder: Path, times: int, rng: random.Random) -> Outcome:
    """Kill -9 the bench in a real terminal while keys come in; each time on a piece of its own."""
    outcome = Outcome()
    for number in range(times):
        home = folder / str(number)
        with RealTerminal("knot", "reed-keyring", home=str(home)) as terminal:
            terminal.until(lambda text: SHOWN.search(text) is not None)
            for _ in range(rng.randrange(1, 4)):
                terminal.press(" ")
                terminal.read_for(rng.uniform(0.02, 0.1))
            terminal.press(" ")
            terminal.read_for(rng.uniform(0, 0.06))
            terminal.kill()
            terminal.drain()
            shown = int((SHOWN.findall(terminal.text) or ["0"])[-1])
        with Store(home / "data" / "coach.db") as store:
            kept = store.pieces()[0].done
        outcome.shown += shown
        outcome.compare(shown, kept)
    return outcome


def count_together(folder: Path, counts: int) -> Outcome:
    """Let two programs count on one piece at once; every number is shown once and kept once."""
    database = folder / "coach.db"
    piece_id, shown = begun(database, 250_000), []
    both = [child(database, piece_id, "bidden") for _ in range(2)]
    for _ in range(counts // 2):
        for one in both:
            one.stdin.write("\n")
            one.stdin.flush()
        shown += [int(one.stdout.readline()) for one in both]
    for one in both:
        one.communicate()
    with Store(database) as store:
        counted = [e for e in store.events_after(piece_id) if isinstance(e, Counted)]
        kept = look(store, piece_id).done
    assert [e.from_done for e in counted] == list(range(counts)), "none out of order"
    assert sorted(shown) == list(range(1, counts + 1)), "none shown twice"
    outcome = Outcome(shown=len(shown))
    outcome.compare(len(shown), kept)
    return outcome


RUNS = {"store": kill_counting, "terminal": kill_bench}


def main() -> None:
    what, times = sys.argv[1], int(sys.argv[2])
    begun_s = time.monotonic()
    with tempfile.TemporaryDirectory() as folder:
        if what == "writers":
            outcome = count_together(Path(folder), times)
        else:
            rng = random.Random(times)  # noqa: S311 - moments, no secrets
            outcome = RUNS[what](Path(folder), times, rng)
    sys.stdout.write(f"{what}: {outcome}, {time.monotonic() - begun_s:.0f} s\n")


if __name__ == "__main__":
    main()
