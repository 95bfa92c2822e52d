"""Counts on one piece and prints each count once the store has it. Started by the tests.

Arguments: the database, the piece's number, and `unbidden` (until it is killed) or `bidden`
(one count for each line that comes in).
"""

import sys
from itertools import repeat
from pathlib import Path

from coach.piece import Sitting, Store, SystemClock


def main() -> None:
    database, piece_id, bidden = Path(sys.argv[1]), int(sys.argv[2]), sys.argv[3] == "bidden"
    with Store(database) as store:
        sitting = Sitting(store, SystemClock(), piece_id, ["clove hitch"] * 100_000)
        for _ in sys.stdin if bidden else repeat(""):
            print(sitting.count().done, flush=True)  # noqa: T201  # the test reads it


if __name__ == "__main__":
    main()
