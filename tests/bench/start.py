"""Prints how long the coach takes to be there, against the least that its libraries need.

Run: python tests/bench/start.py [RUNS]
Both sides of a ratio are started in turn; medians of wall time and of processor time.

Needs POSIX: pseudo-terminals, limits of the system and signals.
"""

import os
import pty
import resource
import select
import signal
import statistics
import sys
import tempfile
import time
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from subprocess import DEVNULL

sys.path.insert(0, str(Path(__file__).parents[1]))
sys.path.insert(0, str(Path(__file__).parents[2]))

from long_projects import FIVE_THOUSAND_TIES, LINES, lines_of
from processes import ROOT, Started

from coach.cli.open_store import open_store
from coach.cli.workshop.workshop import Workshop
from coach.piece import SystemClock, folders

PASS = (sys.executable, "-c", "pass")
COACH = (sys.executable, "-m", "coach")  # of this checkout, whatever is installed
BARE = str(Path(__file__).with_name("bare_app.py"))
MADE = 2500


@dataclass(frozen=True)
class Took:
    """Seconds of one start: on the wall, and of the processor."""

    wall_s: float
    cpu_s: float


def until_shown(command: Sequence[str], seen: bytes, environment: Mapping[str, str]) -> Took:
    """Start a screen in a pseudo-terminal of 120 x 40 and end it when it shows a text."""
    begun = time.perf_counter()
    child, terminal = pty.fork()
    if not child:
        os.execve(command[0], command, environment)  # noqa: S606 - the program measured
    written = b""
    while seen not in written:
        if not select.select([terminal], [], [], 20)[0]:
            raise TimeoutError(written[-2000:].decode(errors="replace"))
        written += os.read(terminal, 65536)
    took = time.perf_counter() - begun
    os.kill(child, signal.SIGKILL)
    _, _, usage = os.wait4(child, 0)
    os.close(terminal)
    return Took(took, usage.ru_utime + usage.ru_stime)


def until_ended(command: Sequence[str], environment: Mapping[str, str]) -> Took:
    """Run a command to its end."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    begun = time.perf_counter()
    ended = Started(command, environment=environment, stdout=DEVNULL).wait(None)
    took = time.perf_counter() - begun
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    spent = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
    assert ended == 0, command
    return Took(took, spent)


def compare(what: str, ours: Callable[[], Took], bare: Callable[[], Took], runs: int) -> None:
    """Print the medians of both sides, run in turn after one run of each, and their ratio."""
    ours(), bare()
    pairs = [(ours(), bare()) for _ in range(runs)]
    for name in ("wall_s", "cpu_s"):
        mine = statistics.median(getattr(pair[0], name) for pair in pairs)
        least = statistics.median(getattr(pair[1], name) for pair in pairs)
        print(
            f"{what:<34}{name[:-2]:<6}{mine * 1000:8.1f} ms  bare {least * 1000:7.1f} ms"
            f"  ratio {mine / least:.2f}"
        )


def under_way(folder: Path) -> Path:
    """Begin a piece of 5,000 ties, of which half are made, and give its project's file."""
    project = folder / "long.yaml"
    project.write_text(FIVE_THOUSAND_TIES)
    with open_store() as store:
        sitting = Workshop(store, SystemClock()).begin(str(project)).sitting
        for _ in range(MADE):
            sitting.count()
        sitting.leave()
    return project


def main() -> None:
    """Print the table."""
    runs = int(sys.argv[1]) if len(sys.argv) > 1 else 20
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        os.environ["COACH_HOME"] = str(folder / "home")
        seen = {
            **os.environ, "TERM": "xterm-256color", "COLORTERM": "truecolor", "LANG": "C.UTF-8",
            "COLUMNS": "120", "LINES": "40", "PYTHONPATH": str(ROOT),
            # both sides run from compiled modules, as they do once installed
            "PYTHONPYCACHEPREFIX": str(folder / "compiled"), "PYTHONDONTWRITEBYTECODE": "",
        }  # fmt: skip
        folders(os.environ)
        short, long = str(folder / "short.yaml"), str(under_way(folder))
        Path(short).write_text(lines_of(LINES))
        compare(
            "bench, 5,000 ties: whole picture",
            lambda: until_shown((*COACH, "knot", long), b"Does the work", seen),
            lambda: until_shown((sys.executable, BARE), b"0 made", seen),
            runs,
        )
        nothing = lambda: until_ended(PASS, seen)  # noqa: E731 - said twice
        compare("coach --version", lambda: until_ended((*COACH, "--version"), seen), nothing, runs)
        compare(
            "coach check, 200 lines", lambda: until_ended((*COACH, "check", short), seen), nothing,
            runs,
        )  # fmt: skip


if __name__ == "__main__":
    main()
