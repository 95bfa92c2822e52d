"""Keeping the display awake while a piece is on the bench, by the system's own means."""

import subprocess
from collections.abc import Callable
from contextlib import suppress
from shutil import which
from typing import Final

_WHY: Final = "A piece is on the bench"
_WAITING: Final = "cat"  # ends when its input is closed, also when this program is killed
_WAYS: Final = (
    ("systemd-inhibit", "--what=idle", "--who=coach", f"--why={_WHY}"),
    ("caffeinate", "-d", "-i"),
)


class Awake:
    """Keeps the display awake from `begin` to `end`; does nothing where no way is offered."""

    def __init__(self, find: Callable[[str], str | None] = which) -> None:
        """Take how programs are found."""
        self._find = find
        self._process: subprocess.Popen[bytes] | None = None

    def begin(self) -> None:
        """Ask the system to leave the display on."""
        waiting = self._find(_WAITING)
        for name, *options in _WAYS:
            program = self._find(name)
            if program and waiting and self._process is None:
                with suppress(OSError):
                    self._process = subprocess.Popen(  # noqa: S603 - one of ours, as found on PATH
                        [program, *options, waiting],
                        stdin=subprocess.PIPE,
                        stdout=subprocess.DEVNULL,
                        stderr=subprocess.DEVNULL,
                        start_new_session=True,
                    )

    def end(self) -> None:
        """Let the display go to sleep again."""
        process, self._process = self._process, None
        if process is None:
            return
        if process.stdin:
            with suppress(OSError):
                process.stdin.close()
        process.terminate()
        process.wait()
