"""The one place where tests start processes, so that every one ends with the test that started it.

Each leads a session of its own, is ended with all that it started, and hears ctrl+c also where the
tests run in the background of a script, which lets nobody hear it. No wait is without an end.

Needs POSIX: signals and forked processes.
"""

import multiprocessing
import os
import signal
import subprocess
import sys
from collections.abc import Callable, Mapping, Sequence
from contextlib import suppress
from importlib import import_module
from multiprocessing import forkserver
from multiprocessing.connection import Connection
from pathlib import Path
from subprocess import PIPE, CompletedProcess
from typing import Any, Final, TypeAlias

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
    """

    def __init__(
        self,
        command: Sequence[str | Path],
        *,
        environment: Mapping[str, str] | None = None,
        cwd: str | Path | None = None,
        text: bool = True,
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
        _started.append(self)

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


class Forked:
    """A function run in a process that is forked from one where a module is loaded.

    Args:
        loaded: the module; it is found as this process finds it.
        run: the function in it, as `run(arguments, environment)`.
        terminal: the path of a terminal, which it leads and has as its input and its outputs.
    """

    def __init__(
        self,
        loaded: str,
        run: str,
        arguments: Sequence[str],
        *,
        terminal: str,
        environment: Mapping[str, str] | None = None,
    ) -> None:
        usual = {**os.environ, **PYTHON, **(environment or {})}
        _begin_forks(loaded)
        ready, tells = _FORKS.Pipe()
        told = (terminal, tells, loaded, run, arguments, usual)
        self._process = _FORKS.Process(target=_lead, args=told)
        self._process.start()
        tells.close()
        if not ready.poll(PATIENCE_S):
            raise TimeoutError(loaded)
        ready.close()
        self.pid = self._process.pid or 0
        _started.append(self)

    @property
    def returncode(self) -> int | None:
        """Return how it has ended, negative for a signal; None while it runs."""
        return self._process.exitcode

    def poll(self) -> int | None:
        """Return the same."""
        return self.returncode

    def send_signal(self, number: int) -> None:
        """Send it a signal."""
        os.kill(self.pid, number)

    def wait(self, timeout: float | None = PATIENCE_S) -> int:
        """Wait for its end and return how it has ended. Raises TimeoutError."""
        self._process.join(timeout)
        if self.returncode is None:
            raise TimeoutError(self.pid)
        return self.returncode

    def end(self) -> None:
        """End it with all that it started, if that has not happened."""
        with suppress(ProcessLookupError):
            os.killpg(self.pid, signal.SIGKILL)
        self.wait()


_FORKS: Final = multiprocessing.get_context("forkserver")


def _begin_forks(loaded: str) -> None:
    """Make the process that is forked from, if it is not there."""
    here = os.environ.get("PYTHONPATH")
    _FORKS.set_forkserver_preload([loaded])
    os.environ["PYTHONPATH"] = os.pathsep.join(filter(None, sys.path))
    try:
        forkserver.ensure_running()
    finally:
        del os.environ["PYTHONPATH"]
        if here is not None:
            os.environ["PYTHONPATH"] = here


def _lead(terminal: str, tells: Connection, loaded: str, run: str, *given: Any) -> None:
    """Lead a terminal, in a process that was forked, say so, and run the function."""
    os.setsid()
    opened = os.open(terminal, os.O_RDWR)  # the first that a leader opens is its own
    for number in range(3):
        os.dup2(opened, number)
    os.close(opened)
    tells.send(None)
    tells.close()
    getattr(import_module(loaded), run)(*given)


_started: list[Started | Forked] = []


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
