"""What benchmarks of the bench share: a real terminal that notes when what came, two programs.

A benchmark holds the coach against the barest app of the same library, both in pseudo-terminals
of one size and asked in turn.

Needs POSIX: pseudo-terminals and what Linux tells of processes and drives.
"""

import fcntl
import os
import select
import struct
import sys
import tempfile
import termios
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from types import TracebackType
from typing import Final, Self

import pyte

ROOT: Final = Path(__file__).parents[2]
TESTS: Final = ROOT / "tests"
sys.path[:0] = [str(ROOT), str(TESTS), str(TESTS / "terminal"), str(TESTS / "piece")]

from hand_clock import HandClock  # noqa: E402 - found on the line above
from processes import Started  # noqa: E402 - the same
from real_terminal import UNKNOWN  # noqa: E402 - the same

from coach.piece import Sitting, Store, start_piece  # noqa: E402 - the same
from coach.plan.from_text import read_plan  # noqa: E402 - the same
from coach.plan.plan_model import Plan  # noqa: E402 - the same

COLUMNS, ROWS = 120, 40
BARE: Final = Path(__file__).with_name("bare_app.py")
_LEADER: Final = (
    "import fcntl, os, sys, termios\n"
    "fcntl.ioctl(0, termios.TIOCSCTTY, 0)\n"
    "os.execv(sys.executable, [sys.executable, *sys.argv[1:]])\n"
)


class Terminal:
    """Runs Python with these arguments in a terminal of its own; see `came` for what it wrote."""

    def __init__(self, *arguments: str, home: Path) -> None:
        self._screen = pyte.Screen(COLUMNS, ROWS)
        self._stream = pyte.ByteStream(self._screen)
        self.came: list[tuple[float, bytes]] = []  # monotonic seconds, what came then
        self._master, inner = os.openpty()
        fcntl.ioctl(inner, termios.TIOCSWINSZ, struct.pack("HHHH", ROWS, COLUMNS, 0, 0))
        seen = {
            "COACH_HOME": str(home), "TERM": "xterm-256color", "LANG": "C.UTF-8",
            "COLUMNS": "", "LINES": "",
        }  # fmt: skip
        self.process = Started(
            [sys.executable, "-c", _LEADER, *arguments],
            stdin=inner, stdout=inner, stderr=inner, environment=seen,
        )  # fmt: skip
        os.close(inner)

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.process.end()
        os.close(self._master)

    def press(self, keys: str) -> float:
        """Send keys as a terminal would and give the moment, in monotonic seconds."""
        at_s = time.monotonic()
        os.write(self._master, keys.encode())
        return at_s

    def read_for(self, seconds: float) -> None:
        """Note what is written within a time."""
        end = time.monotonic() + seconds
        while (left := end - time.monotonic()) > 0:
            if select.select([self._master], [], [], left)[0]:
                data = os.read(self._master, 65536)
                self.came.append((time.monotonic(), data))

    def shown(self, is_seen: Callable[[str], bool]) -> float | None:
        """Go on to where the screen first is as wanted; give when that came, or None."""
        for number, (at_s, data) in enumerate(self.came):
            text = UNKNOWN.sub("", data.decode("latin-1"))
            self._stream.feed(text.encode("latin-1"))
            if is_seen(self.text):
                del self.came[: number + 1]
                return at_s
        self.came.clear()
        return None

    @property
    def text(self) -> str:
        """The screen as far as it was gone on to, in lines."""
        return "\n".join(self._screen.display)

    def until(self, seen: str) -> None:
        """Wait until the screen shows a text."""
        for _ in range(600):
            self.read_for(0.1)
            if self.shown(lambda text: seen in text) is not None:
                return
        raise AssertionError(f"never shown: {seen}\n{self.text}")

    def processor_s(self) -> float:
        """Return the processor time of all threads so far, in seconds."""
        tasks = Path(f"/proc/{self.process.pid}/task").glob("*/schedstat")
        return sum(int(task.read_text().split()[0]) for task in tasks) / 1e9


def project(strands: int, ties: int) -> str:
    """Return the text of a project of about so many ties: rows both ways, then groups of four."""
    pieces, least = strands // 2, strands // 6
    counts = {"reed": pieces - 2 * least, "clay": least, "rush": least}
    looks = {"reed": "#5b7f3a", "clay": "#a0522d", "rush": "#2f6f8f"}
    cords = "".join(
        f'  {name}: {{colour: "{looks[name]}", diameter: 2 mm, pieces: {n}, tail: 6 cm}}\n'
        for name, n in counts.items()
    )
    hung = ", ".join(f"{n} {name}" for name, n in counts.items())
    in_part = 2 * (strands - 1) + 3 * (strands // 4)
    return (
        "coach: 1\ntitle: Long bank\nkind: other\ntakes: 40-60 h\n"
        f"cords:\n{cords}start: {{hang: [{hung}], on: dowel, by: lark's head}}\n"
        f"work:\n  - {{use: band, times: {round(ties / in_part)}}}\n"
        "parts:\n  band:\n"
        f"    - {{row: clove hitch, holder: 1, across: 2-{strands}}}\n"
        f"    - {{row: clove hitch, holder: {strands}, across: {strands - 1}-1}}\n"
        f"    - {{knot: square knot, groups: 1-{strands} by 4}}\n"
        f"    - {{knot: half knot, groups: 1-{strands} by 4, times: 2}}\n"
    )


def plan_of(strands: int, ties: int) -> Plan:
    """Compile such a project."""
    reading = read_plan(project(strands, ties))
    assert reading.plan, reading.problems
    return reading.plan


def begin(file: Path, plan: Plan, done: int) -> None:
    """Keep a piece of the plan in this file, with `done` counted one by one."""
    clock = HandClock()
    with Store(file.parent / "data" / "coach.db") as store:
        number = start_piece(
            store, clock, title="Long bank", project_text=file.read_text(),
            source=str(file.resolve()), total=plan.total,
        )  # fmt: skip
        sitting = Sitting(store, clock, number, [count.knot for count in plan.counts])
        for _ in range(done):
            clock.go_on(5)
            sitting.count()
        sitting.leave()


@contextmanager
def bench_and_bare(
    strands: int, ties: int, done: int, *bare_with: str, settings: str = ""
) -> Iterator[tuple[Terminal, Terminal, int]]:
    """Return the bench on a piece under way, the bare app beside it, and the piece's total."""
    with tempfile.TemporaryDirectory() as folder:
        home, plan = Path(folder), plan_of(strands, ties)
        file = home / "long-bank.yaml"
        file.write_text(project(strands, ties))
        (home / "settings").mkdir()
        (home / "settings" / "settings.yaml").write_text(settings)
        begin(file, plan, done)
        bench = Terminal("-m", "coach", "knot", str(file), home=home)
        with bench, Terminal(str(BARE), *bare_with, home=home) as bare:
            bench.until("hang like this")
            bench.press("\r")
            bench.until(f"{done} of {plan.total}")
            bare.until("0 made")
            yield bench, bare, plan.total
