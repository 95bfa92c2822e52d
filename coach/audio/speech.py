"""Speak text with a program of the system, on a thread of its own so that no key waits for it.

Text goes to the program on standard input or as one argument, never through a shell.
"""

import os
import subprocess
import tempfile
import threading
import time
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from shutil import which
from typing import IO, Final

from coach.text import one_line

_WORD_S: Final = 0.4  # 150 words a minute
_START_S: Final = 0.3
_LONGEST_COMPLAINT: Final = 4096
_ENDED: Final = 0.5  # seconds that a program may take to end before it is made to


@dataclass(frozen=True, slots=True)
class Program:
    """A program that speaks.

    Attributes:
        path: Where it is.
        options: The arguments that it always gets.
        kept: Whether it stays open and speaks each line of its input as it comes; any other program
            is started anew for each text.
        text: Whether the text is its last argument; otherwise it is its input.
    """

    path: str
    options: tuple[str, ...] = ()
    kept: bool = False
    text: bool = False


_KNOWN: Final = {
    "espeak-ng": Program("", (), kept=True),
    "spd-say": Program("", ("--priority", "text", "--"), text=True),
    "say": Program("", ("-f", "-")),
}
KNOWN: Final = tuple(_KNOWN)
"""The programs that are looked for, in this order."""


@cache
def _ending_with_us() -> tuple[str, ...]:
    """Return the command prefix that makes a child process end when this one does.

    Empty where the system has no such way; a speaking program then ends when its input closes.
    """
    path = which("setpriv")
    return (path, "--pdeathsig", "TERM", "--") if path else ()


def find_program(wanted: str, find: Callable[[str], str | None] = which) -> Program | None:
    """Return the program to speak with, or None if it is not installed.

    Args:
        wanted: Name or path of the maker's program; "" for the first known one that is installed.
        find: Return the path of a program by its name, or None.
    """
    for name in [wanted] if wanted else KNOWN:
        path = find(name)
        if path:
            known = _KNOWN.get(Path(name).name, Program(""))
            return Program(path, known.options, known.kept, known.text)
    return None


class Voice:
    """Speaks the newest text that it was given and drops an older one still waiting."""

    def __init__(
        self, program: Program | None, tick_s: Callable[[], float] = time.monotonic
    ) -> None:
        """Set the program, None for none, and a monotonic clock in seconds."""
        self._program = program
        self._tick_s = tick_s
        self._process: subprocess.Popen[bytes] | None = None
        self._busy_until_s = 0.0
        self._newest = ""
        self._asked = threading.Condition()
        self._thread: threading.Thread | None = None
        self._errors: IO[bytes] | None = None
        self._trouble = ""
        self._told = False
        self._closed = False

    def say(self, text: str) -> None:
        """Hand a text to the thread that speaks, and return at once."""
        text = one_line(text)
        if not text or self._closed:
            return
        if self._program is None:
            self._fail("No program that speaks was found (espeak-ng, spd-say or say).")
            return
        with self._asked:
            self._newest = text
            if self._thread is None:
                # A daemon, so that a program that hangs cannot keep the coach from ending.
                self._thread = threading.Thread(target=self._run, daemon=True, name="voice")
                self._thread.start()
            self._asked.notify()

    @property
    def failed(self) -> bool:
        """Whether speaking has failed and `trouble` has not reported it yet."""
        process = None if self._closed else self._process
        if not self._trouble and process and (process.poll() or self._complains()):
            self._fail_here()
        return bool(self._trouble) and not self._told

    def trouble(self) -> str:
        """Return why speaking failed, once; "" after that, and while speaking works."""
        if not self.failed:
            return ""
        self._told = True
        return f"{self._trouble} The coach goes on without it."

    def close(self) -> None:
        """Stop speaking, in the middle of a word if need be, and end thread and program."""
        with self._asked:
            self._closed = True
            self._asked.notify()
        if self._thread:
            self._thread.join(_ENDED)
        self._end()
        if self._errors:
            self._errors.close()

    def _run(self) -> None:
        while True:
            with self._asked:
                self._asked.wait_for(lambda: self._newest or self._closed)
                text, self._newest = self._newest, ""
            if text and not self._trouble:
                self._speak(text)
            if self._closed:
                return

    def _speak(self, text: str) -> None:
        program = self._program
        if program is None:
            return
        try:
            # An older text is cut short: what counts is the step that the hands are at.
            if self._is_speaking():
                self._end()
            process = self._ready(program, text)
            if process.stdin:
                process.stdin.write(f"{text}\n".encode())
                process.stdin.flush()
                if not program.kept:
                    process.stdin.close()
        except OSError:
            self._end()
            self._fail_here()
            return
        self._busy_until_s = self._tick_s() + _START_S + _WORD_S * len(text.split())

    def _ready(self, program: Program, text: str) -> subprocess.Popen[bytes]:
        """Return a running program for a text: the one that is waiting, or a new one."""
        if program.kept and self._process and self._process.poll() is None:
            return self._process
        self._end()
        self._errors = self._errors or tempfile.TemporaryFile()  # noqa: SIM115 - closed by `close`
        self._process = subprocess.Popen(  # noqa: S603 - the program that the maker chose; no shell
            [*_ending_with_us(), program.path, *program.options, *([text] if program.text else [])],
            stdin=subprocess.DEVNULL if program.text else subprocess.PIPE,
            stdout=subprocess.DEVNULL,
            stderr=self._errors,
            # Its own session: ctrl+c at the terminal must not reach the voice before the coach.
            start_new_session=True,
        )
        return self._process

    def _is_speaking(self) -> bool:
        """Return whether the previous text may still be spoken; a guess for a kept program."""
        if self._process is None or self._process.poll() is not None:
            return False
        kept = self._program is not None and self._program.kept
        return not kept or self._tick_s() < self._busy_until_s

    def _end(self) -> None:
        process, self._process = self._process, None
        if process is None:
            return
        process.terminate()
        if process.stdin:
            with suppress(OSError):
                process.stdin.close()
        try:
            # Reaped, or it stays in the process table until the coach ends.
            process.wait(_ENDED)
        except subprocess.TimeoutExpired:
            process.kill()
            process.wait()

    def _complains(self) -> bool:
        """Return whether the program reported an error; some exit with 0 without speaking."""
        if self._errors is None:
            return False
        size = os.fstat(self._errors.fileno()).st_size
        said = os.pread(
            self._errors.fileno(), _LONGEST_COMPLAINT, max(0, size - _LONGEST_COMPLAINT)
        )
        return any(line.startswith(b"error") for line in said.lower().splitlines())

    def _fail_here(self) -> None:
        name = Path(self._program.path).name if self._program else ""
        self._fail(f"{name} does not speak here.")

    def _fail(self, why: str) -> None:
        self._trouble = self._trouble or why
