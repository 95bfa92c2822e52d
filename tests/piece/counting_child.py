"""Counts on one piece and prints each count once the store has it. Forked by the tests.

Arguments: the database, the piece's number, and `unbidden` (until it is killed) or `bidden`
(one count for each line that comes in).
"""

import sys
from collections.abc import Sequence
from itertools import repeat
from pathlib import Path

from coach.piece import Sitting, Store, SystemClock


def main(arguments: Sequence[str]) -> None:
    database, piece_id, bidden = Path(arguments[0]), int(arguments[1]), arguments[2] == "bidden"
    with Store(database) as store:
        sitting = Sitting(store, SystemClock(), piece_id, ["clove hitch"] * 100_000)
        for _ in sys.stdin if bidden else repeat(""):
            print(sitting.count().done, flush=True)  # noqa: T201  # the test reads it


def open_when_bid(arguments: Sequence[str]) -> None:
    """Say that it is ready, and open a database once a line comes in."""
    print("ready", flush=True)  # noqa: T201  # the test reads it
    sys.stdin.readline()
    Store(Path(arguments[0])).close()
