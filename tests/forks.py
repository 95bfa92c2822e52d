"""Functions run in processes that are forked from one where all of the coach is loaded.

They are there at once. As what `processes.py` starts, each leads a session of its own, hears ctrl+c
and ends with the test. What a start shows, and what Python does as it ends, is asked of a process
that was started.

Needs POSIX: forked processes and signals.
"""

import multiprocessing
import os
import signal
import sys
from collections.abc import Callable, Mapping, Sequence
from contextlib import suppress
from functools import partial
from importlib import import_module
from multiprocessing import forkserver, reduction
from multiprocessing.connection import Connection
from pathlib import Path
from typing import Any, Final, Self

from processes import PATIENCE_S, PYTHON, ends_with_the_test


class Forked:
    """A function run in a process that is forked from one where all of the coach is loaded.

    Args:
        module: the module that the function is in; it is found as this process finds it.
        function: its name, of what is called as `function(arguments)`.
        terminal: the path of a terminal, which it leads and has as its input and its outputs.
        streams: what it has as these where there is no terminal.
        cwd: the folder that it works in, if another than this process.
    """

    def __init__(
        self,
        module: str,
        function: str,
        arguments: Sequence[str],
        *,
        terminal: str = "",
        streams: Sequence[int] = (),
        environment: Mapping[str, str] | None = None,
        cwd: str | Path | None = None,
    ) -> None:
        usual = {**os.environ, **PYTHON, **(environment or {})}
        _begin_forks()
        ready, tells = _FORKS.Pipe()
        called = partial(_call, module, function, cwd or Path.cwd(), arguments, usual)
        self._process = _FORKS.Process(
            target=_lead, args=(terminal, _Passed(streams), tells, called)
        )
        self._process.start()
        tells.close()
        if not ready.poll(PATIENCE_S):
            raise TimeoutError(module)
        ready.close()
        self.pid = self._process.pid or 0
        ends_with_the_test(self)

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


class Piped(Forked):
    """A forked function with pipes for what it reads and writes as text; see Forked.

    Of what it writes there is little, and what it is sent is less than a pipe takes at once. As a
    context it is ended at once.
    """

    def __init__(self, module: str, function: str, arguments: Sequence[str], **more: Any) -> None:
        pipes = [os.pipe() for _ in range(3)]
        theirs = [pipes[0][0], pipes[1][1], pipes[2][1]]
        try:
            super().__init__(module, function, arguments, streams=theirs, **more)
        finally:
            for number in theirs:
                os.close(number)
        self.stdin = open(pipes[0][1], "w", encoding="utf-8")  # noqa: PTH123, SIM115 - until its end
        self.stdout = open(pipes[1][0], encoding="utf-8")  # noqa: PTH123, SIM115 - the same
        self.stderr = open(pipes[2][0], encoding="utf-8")  # noqa: PTH123, SIM115 - the same

    def communicate(self, typed: str = "") -> tuple[str, str]:
        """Send it text, read what it writes until it has ended, and return that."""
        with suppress(BrokenPipeError):  # it has ended, and says why
            self.stdin.write(typed)
            self.stdin.close()
        told = self.stdout.read(), self.stderr.read()
        self.wait()
        return told

    def kill(self) -> None:
        """End it as a power cut would."""
        self.send_signal(signal.SIGKILL)

    def end(self) -> None:
        super().end()
        for stream in (self.stdin, self.stdout, self.stderr):
            with suppress(OSError):  # what was not yet sent goes nowhere
                stream.close()

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.end()


def coach(*arguments: str, **options: Any) -> Piped:
    """Fork the coach as where nothing is a terminal; `options` are those of Forked."""
    return Piped("forked_coach", "run", arguments, **options)


_FORKS: Final = multiprocessing.get_context("forkserver")


class _Passed:
    """Numbers of open files, which a process that is forked gets with what it is told."""

    def __init__(self, numbers: Sequence[int]) -> None:
        self._numbers = numbers

    def __reduce__(self) -> tuple[Any, ...]:
        return _received, tuple(reduction.DupFd(number) for number in self._numbers)


def _received(*passed: Any) -> list[int]:
    return [one.detach() for one in passed]


def _begin_forks() -> None:
    """Make the process that is forked from, if it is not there."""
    here = os.environ.get("PYTHONPATH")
    _FORKS.set_forkserver_preload(["forked_coach"])
    os.environ["PYTHONPATH"] = os.pathsep.join(filter(None, sys.path))
    try:
        forkserver.ensure_running()
    finally:
        del os.environ["PYTHONPATH"]
        if here is not None:
            os.environ["PYTHONPATH"] = here


def _lead(
    terminal: str, streams: Sequence[int], tells: Connection, called: Callable[[], None]
) -> None:
    """Lead a session, in a process that was forked, say so, and call the function."""
    os.setsid()
    if terminal:
        streams = [os.open(terminal, os.O_RDWR)] * 3  # the first that a leader opens is its own
    for number, stream in enumerate(streams):
        os.dup2(stream, number)
    for stream in {*streams}:
        os.close(stream)
    tells.send(None)
    tells.close()
    called()


def _call(
    module: str, function: str, cwd: str | Path, arguments: Sequence[str], seen: Mapping[str, str]
) -> None:
    """Call a function with arguments and an environment, with streams and signals as at a start."""
    os.chdir(cwd)
    os.environ.clear()
    os.environ.update(seen)
    signal.signal(signal.SIGINT, signal.default_int_handler)
    for number, name in enumerate(("stdin", "stdout", "stderr")):
        mode, buffered = "w" if number else "r", 1 if name == "stderr" else -1
        stream = open(number, mode, buffered, encoding="utf-8")  # noqa: PTH123, SIM115 - for the whole run
        setattr(sys, name, stream)
        setattr(sys, f"__{name}__", stream)
    getattr(import_module(module), function)(arguments)
