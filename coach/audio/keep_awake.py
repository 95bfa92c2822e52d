"""Keep the display from going to sleep while a piece is on the bench."""

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
    """Keep the display on from `begin` to `end`; do nothing where the system has no way to."""

    def __init__(self, find: Callable[[str], str | None] = which) -> None:
        """Find the programs that can keep the display on.

        Args:
            find: Return the path of a program by its name, or None.
        """
        self._find = find
        self._process: subprocess.Popen[bytes] | None = None

    def begin(self) -> None:
        """Start a program that keeps the display on; it ends with this process at the latest."""
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
        """End that program, so that the display may go to sleep again."""
        process, self._process = self._process, None
        if process is None:
            return
        if process.stdin:
            with suppress(OSError):
                process.stdin.close()
        process.terminate()
        process.wait()
