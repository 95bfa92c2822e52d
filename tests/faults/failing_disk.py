"""Fails the disk at every write, sync and rename of a sitting in turn, and cuts the power there.

By hand, for it needs a C compiler: `python tests/faults/failing_disk.py`. What was told as stored
is there afterwards, the file is sound, and after a fault that passes everything is stored.
"""

import ctypes
import os
import sys
import tempfile
from collections import Counter
from pathlib import Path
from typing import Final

ROOT: Final = Path(__file__).parents[2]
sys.path[:0] = [str(ROOT), str(ROOT / "tests"), str(ROOT / "tests" / "piece")]

from hand_clock import HandClock  # noqa: E402 - found on the line above
from processes import Started, forked, run  # noqa: E402

from coach.piece import PieceError, Sitting, Store, look, start_piece  # noqa: E402
from coach.piece.export_import import export_piece, from_text  # noqa: E402

FAIL, FULL, CUT = 1, 2, 3
MODES: Final = {"an error once": FAIL, "full for six writes": FULL, "power cut": CUT}
COUNTS: Final = 9
KNOTS: Final = ["square knot"] * 40


def sat(database: Path, told: int) -> Sitting | None:
    """Sit down and count; write down each count that is told as stored."""
    clock = HandClock()
    try:
        with Store(database) as store:
            sitting = Sitting(store, clock, 1, KNOTS)
            for _ in range(COUNTS):
                clock.go_on(9)
                done = sitting.count().done
                if not sitting.waiting and not sitting.trouble:
                    os.pwrite(told, done.to_bytes(4, "big"), 0)
                if done % 4 == 0:
                    sitting.settle()
            clock.go_on(9)
            sitting.keep()
            sitting.leave()
            sitting.keep()
            if not sitting.waiting:
                os.pwrite(told, sitting.state.done.to_bytes(4, "big"), 0)
            return sitting
    except PieceError:
        return None


def tried(disk: ctypes.CDLL, nth: int, mode: int, seen: Counter[str]) -> bool:
    """Fail at one place; return whether the sitting had come that far."""
    with tempfile.TemporaryDirectory() as folder:
        database = Path(folder) / "coach.db"
        with Store(database) as store:
            start_piece(store, HandClock(), title="Ebb", project_text="", source="x", total=40)
        told = os.open(Path(folder) / "told", os.O_RDWR | os.O_CREAT)

        def failing() -> int:
            disk.disk_arm(nth, mode)
            sitting = sat(database, told)
            calls = disk.disk_calls()
            return 0 if calls <= nth else 78 if sitting is None else 79 + bool(sitting.waiting)

        status = forked(failing)
        stored = int.from_bytes(os.pread(told, 4, 0), "big")
        os.close(told)
        with Store(database) as store:
            store.check()
            kept = look(store, 1).done
            assert from_text(export_piece(store, 1))
        assert kept >= stored, f"lost: {kept} kept, {stored} told, at {nth}, {mode}"
        names = {0: "after the end", 77: "cut", 78: "refused in a sentence", 79: "all stored",
                 80: "told as not kept"}  # fmt: skip
        seen[names.get(status, f"ended with {status}")] += 1
        return status != 0


def main() -> None:
    disk = ctypes.CDLL(None)
    for name, mode in MODES.items():
        seen, nth = Counter[str](), 0
        while tried(disk, nth, mode, seen):
            nth += 1
        sys.stdout.write(f"{name}: at {nth} places in turn, 0 lost, {dict(seen)}\n")
        sys.stdout.flush()


if __name__ == "__main__":
    if "LD_PRELOAD" in os.environ:
        main()
    else:
        with tempfile.TemporaryDirectory() as made:
            shim = Path(made) / "failing_disk.so"
            source = Path(__file__).with_suffix(".c")
            run(["cc", "-shared", "-fPIC", "-O1", "-o", shim, source, "-ldl"], check=True)
            with Started(
                [sys.executable, __file__], environment={"LD_PRELOAD": str(shim)},
                stdout=None, stderr=None,
            ) as trial:  # fmt: skip
                sys.exit(trial.wait(timeout=None))
