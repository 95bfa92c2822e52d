"""Where tests start processes, so that every one ends with the test that started it; see forks.py.

Each leads a session of its own, is ended with all that it started, and hears ctrl+c also where the
tests run in the background of a script, which lets nobody hear it. No wait is without an end.

Needs POSIX: signals and forked processes.
"""

import os
import signal
import subprocess
import sys
from collections.abc import Callable, Mapping, Sequence
from contextlib import suppress
from pathlib import Path
from subprocess import PIPE, CompletedProcess
from typing import Any, Final, Protocol, TypeAlias

ROOT: Final = Path(__file__).parents[1]
PATIENCE_S: Final = 60.0
# As it is where nobody has set it: compiled once, and buffered.
PYTHON: Final = {
    "PYTHONPATH": str(ROOT), "PYTHONDONTWRITEBYTECODE": "", "PYTHONUNBUFFERED": "",
}  # fmt: skip
Completed: TypeAlias = "CompletedProcess[Any]"


class Started(subprocess.Popen[Any]):
    """A process with pipes for what it reads and writes, unless `streams` are given.

    `environment` is what it sees beside or in place of the usual. As a context it is ended at once.
    One that is lasting does not end with the test: who starts it ends it.
    """

    def __init__(
        self,
        command: Sequence[str | Path],
        *,
        environment: Mapping[str, str] | None = None,
        cwd: str | Path | None = None,
        text: bool = True,
        lasting: bool = False,
        **streams: Any,
    ) -> None:
        usual = {**os.environ, **PYTHON, **(environment or {})}
        # A signal that is ignored stays so in what is started; one that is handled does not.
        before = signal.signal(signal.SIGINT, signal.default_int_handler)
        try:
            super().__init__(
                command, env=usual, cwd=cwd, text=text, start_new_session=True,
                **{"stdin": PIPE, "stdout": PIPE, "stderr": PIPE, **streams},
            )  # fmt: skip
        finally:
            signal.signal(signal.SIGINT, before)
        if not lasting:
            ends_with_the_test(self)

    def wait(self, timeout: float | None = PATIENCE_S) -> int:
        return super().wait(timeout)

    def communicate(self, input: Any = None, timeout: float | None = PATIENCE_S) -> Any:  # noqa: A002 - the library's own name
        return super().communicate(input, timeout)

    def end(self) -> None:
        """End it with all that it started, if that has not happened."""
        with suppress(ProcessLookupError):
            os.killpg(self.pid, signal.SIGKILL)
        self.wait()
        for stream in filter(None, (self.stdin, self.stdout, self.stderr)):
            with suppress(OSError):  # what was not yet sent goes nowhere
                stream.close()

    def __exit__(self, *_: object) -> None:
        self.end()


class Ends(Protocol):
    """A process that can be ended."""

    def end(self) -> None:
        """End it with all that it started, if that has not happened."""


_started: list[Ends] = []


def ends_with_the_test(process: Ends) -> None:
    """Note a process that is to be ended with the test that started it."""
    _started.append(process)


def end_all() -> None:
    """End everything that was started and is not ended yet."""
    while _started:
        _started.pop().end()


def run(
    command: Sequence[str | Path], typed: str | bytes = "", *, check: bool = False, **options: Any
) -> Completed:
    """Run a command to its end with what is typed, text or bytes; `options` are those of Started.

    Raises CalledProcessError for `check` and another exit status than 0, TimeoutExpired.
    """
    with Started(command, text=isinstance(typed, str), **options) as process:
        written, told = process.communicate(typed)
    done = CompletedProcess(command, process.returncode, written, told)
    if check:
        done.check_returncode()
    return done


def run_python(*arguments: str | Path, **options: Any) -> Completed:
    """Run this Python to its end; `options` are those of run."""
    return run([sys.executable, *arguments], **options)


def coach(*arguments: str, **options: Any) -> Completed:
    """Run the coach to its end; `options` are those of run."""
    return run_python("-m", "coach", *arguments, **options)


def forked(call: Callable[[], int]) -> int:
    """Run a call in a copy of this process and return its exit status; negative for a signal."""
    child = os.fork()
    if not child:
        status = 1
        try:
            status = call()
        finally:
            os._exit(status)  # nothing of the test that was copied is to go on
    return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])
