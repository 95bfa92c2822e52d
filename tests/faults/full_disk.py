"""Fills a small disk twenty times while a piece is counted. Needs the right to mount; by hand:

`python tests/faults/full_disk.py`
"""

import sys
import tempfile
from contextlib import suppress
from pathlib import Path

ROOT = Path(__file__).parents[2]
sys.path[:0] = [str(ROOT), str(ROOT / "tests"), str(ROOT / "tests" / "piece")]

from hand_clock import HandClock  # noqa: E402 - found on the line above
from processes import run  # noqa: E402 - the same

from coach.piece import Sitting, Store, look, start_piece  # noqa: E402

ROUNDS, IN_MEMORY, TOTAL = 20, 30, 9999


def count_on_a_full_disk(folder: Path) -> tuple[int, int]:
    """Return how often the disk was full, and how many counts were made; all of them are kept."""
    clock, full, filler = HandClock(), 0, folder / "filler"
    with Store(folder / "coach.db") as store:
        piece_id = start_piece(store, clock, title="Ebb", project_text="", source="x", total=TOTAL)
        sitting = Sitting(store, clock, piece_id, ["clove hitch"] * TOTAL)
        for _ in range(ROUNDS):
            with filler.open("wb", buffering=0) as file, suppress(OSError):
                while True:
                    file.write(b"x" * 4096)
            for _ in range(IN_MEMORY):
                clock.go_on(2)
                sitting.count()
            full += sitting.trouble is not None
            filler.unlink()
            assert sitting.keep()
            assert look(store, piece_id).done == sitting.state.done
        return full, sitting.state.done


def main() -> None:
    with tempfile.TemporaryDirectory() as folder:
        mount = ["mount", "-t", "tmpfs", "-o", "size=400k", "tmpfs", folder]
        run(mount, check=True)
        try:
            full, counts = count_on_a_full_disk(Path(folder))
        finally:
            run(["umount", folder], check=True)
    sys.stdout.write(f"full {full} of {ROUNDS} times; {counts} counts, all kept\n")


if __name__ == "__main__":
    main()
