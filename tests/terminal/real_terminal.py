"""A real pseudo-terminal with the coach in it, or a shell, and its screen as text.

Needs POSIX: pseudo-terminals and signals.
"""

import codecs
import fcntl
import os
import re
import select
import signal
import struct
import sys
import termios
import time
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from types import TracebackType
from typing import Self

import pyte
from forks import Forked
from processes import Started

# A process that leads its session takes the terminal on its input as its own.
LEADER = (
    "import fcntl, os, sys, termios\n"
    "fcntl.ioctl(0, termios.TIOCSCTTY, 0)\n"
    "os.execvp(sys.argv[1], sys.argv[1:])\n"
)
COACH = (sys.executable, "-m", "coach")
READ_AT_START = ("LANG", "LC_", "PYTHON", "TEXTUAL")
# What the screen emulator does not know: keyboard protocol and mode questions.
UNKNOWN = re.compile(r"\x1b\[[<>=?][0-9;]*[uq]|\x1b\[\?[0-9;]+\$p|\x1bP[^\x1b]*\x1b\\")
LOOK_S = 0.05  # how often it is looked at what does not come through the terminal
MOST_S = 30.0  # without a byte
BOUNCE_S = 0.16
EVERY_PRESS = "bounce: 0\n"


def shows(done: int, total: int) -> Callable[[str], bool]:
    """Return a look at the screen: whether it says that so many counts are made."""
    return lambda text: bool(re.search(rf"(?<!\d){done} of {total}\b", text))


def guarded(file: Path, settings: str) -> bool:
    """Write the settings if there are none; give whether a press may be taken for a bounce."""
    if settings and not file.exists():
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(settings)
    return not (file.is_file() and EVERY_PRESS.strip() in file.read_text())


class RealTerminal:
    """Runs the coach, or another program, with these arguments at a size in columns and rows.

    The coach is forked from a process that has it loaded. Where the environment is one that Python
    reads as it starts, and for a program that is named, a new one is started.

    In a home without settings they become those given. As a rule no press is taken for a bounce, so
    that none has to wait for the one before; with "" all is as for a maker who has set nothing.
    """

    def __init__(
        self,
        *arguments: str,
        home: str,
        columns: int = 80,
        rows: int = 24,
        environment: Mapping[str, str] | None = None,
        program: Sequence[str] = (),
        settings: str = EVERY_PRESS,
    ) -> None:
        """Start it; `environment` is what it sees beside or in place of the usual."""
        self._guarded = guarded(Path(home) / "settings" / "settings.yaml", settings)
        self._screen = pyte.Screen(columns, rows)
        self._stream = pyte.Stream(self._screen)
        self.written = ""
        self._fed = 0  # how much of it the screen has been given
        self._lines = [""] * rows
        self._last, self._last_s = "", 0.0  # the last key, and by when it was surely read
        self._closed = False
        self._decoder = codecs.getincrementaldecoder("utf-8")("replace")
        self.master, inner = os.openpty()
        fcntl.ioctl(inner, termios.TIOCSWINSZ, struct.pack("HHHH", rows, columns, 0, 0))
        seen = {
            "COACH_HOME": home, "TERM": "xterm-256color", "LANG": "C.UTF-8",
            "COLUMNS": "", "LINES": "", **(environment or {}),
        }  # fmt: skip
        self.process: Started | Forked
        if program or any(name.startswith(READ_AT_START) for name in environment or {}):
            self.process = Started(
                [sys.executable, "-c", LEADER, *(program or COACH), *arguments],
                stdin=inner, stdout=inner, stderr=inner, environment=seen,
            )  # fmt: skip
        else:
            self.process = Forked(
                "forked_coach", "run", arguments, terminal=os.ttyname(inner), environment=seen
            )
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
        if self.master >= 0:
            os.close(self.master)

    @property
    def text(self) -> str:
        """The screen as lines without trailing space."""
        if self._fed < len(self.written):
            self._stream.feed(UNKNOWN.sub("", self.written[self._fed :]))
            self._fed = len(self.written)
            for row in self._screen.dirty:
                cells, columns = self._screen.buffer[row], range(self._screen.columns)
                self._lines[row] = "".join(cells[column].data for column in columns).rstrip()
            self._screen.dirty.clear()
        return "\n".join(self._lines)

    def press(self, keys: str) -> None:
        """Send keys as a terminal would; where bounces are told, the last key as a new press.

        One that is sent while the coach starts is read late. All that is sure is that it was read
        before it was seen what came of it, and from then on a bounce of it may take its time.
        """
        if self._guarded and self._last and keys.startswith(self._last):
            self.read_for(self._last_s + BOUNCE_S - time.monotonic())
        os.write(self.master, keys.encode())
        self._last, self._last_s = keys[-1:], time.monotonic()

    def count(self, first: int, last: int, total: int = 27) -> None:
        """Count one by one, to a total that is the reed keyring's unless another is given."""
        for done in range(first, last + 1):
            self.press(" ")
            self.until(shows(done, total))

    def until(self, seen: str | Callable[[str], bool]) -> str:
        """Read on until the screen shows a text, or is as a function wants; give the screen."""

        def is_seen() -> bool:
            return seen in self.text if isinstance(seen, str) else seen(self.text)

        until_s = time.monotonic() + MOST_S
        while not is_seen():
            ended = self.process.poll() is not None
            if self._read():
                until_s = time.monotonic() + MOST_S
                continue
            assert not ended, f"ended with {self.process.returncode}:\n{self.text}"
            assert time.monotonic() < until_s, f"never shown: {seen}\n{self.text}"
        self._last_s = time.monotonic()
        return self.text

    def rest(self) -> None:
        """Read on until nothing has come for longer than a bouncing key takes."""
        while self._read(BOUNCE_S):
            pass

    def read_for(self, seconds: float) -> None:
        """Take in what is written within a time."""
        end = time.monotonic() + seconds
        while (left := end - time.monotonic()) > 0:
            self._read(left)

    def read_at_once(self) -> None:
        """Take in what is written already."""
        self._read(0)

    def drain(self) -> None:
        """Take in what an ended program had written before."""
        while not self._closed and self._read(0.5):
            pass

    def end(self) -> int:
        """Read until the program has ended and give its exit status."""
        while not self._closed:
            assert self._read(MOST_S) or self._closed, f"still running:\n{self.text}"
        return self.process.wait(timeout=MOST_S)

    def kill(self) -> None:
        """End the program as a power cut would."""
        self.process.send_signal(signal.SIGKILL)
        self.process.wait()

    def hang_up(self) -> None:
        """Take the terminal away, as closing its window does."""
        os.close(self.master)
        self.master = -1

    def _read(self, patience_s: float = LOOK_S) -> bool:
        """Take in what the program has written; False if nothing came for a while."""
        if not select.select([self.master], [], [], patience_s)[0]:
            return False
        data = b"".join(iter(self._piece, b""))
        self.written += self._decoder.decode(data)
        return bool(data)

    def _piece(self) -> bytes:
        """Return what can be read at once, of which a terminal hands on a few kilobytes."""
        if self._closed or not select.select([self.master], [], [], 0)[0]:
            return b""
        try:
            data = os.read(self.master, 65536)
        except OSError:  # the other end is closed
            data = b""
        self._closed = not data
        return data
