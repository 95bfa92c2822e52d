"""The coach's commands called in this process: ten times as quick as starting the program.

All that its command line does is done, from the words of the call to bytes in an encoding, ctrl+c
and the exit status. What a process of its own shows (signals, kills, terminals, what is loaded at
the start) is asked of one, by `processes.coach`.
"""

import gc
import os
import signal
import sys
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from io import BytesIO, TextIOWrapper
from pathlib import Path

import pytest
from processes import Completed, CompletedProcess

from coach.cli.main import main


class _Written(BytesIO):
    """What a program writes and cannot read; it is there when all streams to it are closed."""

    def readable(self) -> bool:
        return False

    def close(self) -> None:
        return


def coach(
    *arguments: str,
    typed: str | bytes = "",
    cwd: str | Path | None = None,
    environment: Mapping[str, str] | None = None,
    encoding: str = "utf-8",
    output: int | None = None,
    check: bool = False,
) -> Completed:
    """Call the coach to its end, as where nothing is a terminal; `environment` beside the usual.

    What it prints is text where text is typed, else bytes. `encoding` is that of what is printed
    and typed; `output` a number of a file, which is written to instead.

    Raises CalledProcessError for `check` and another exit status than 0.
    """
    as_bytes = typed if isinstance(typed, bytes) else typed.encode(encoding)
    out = _Written() if output is None else os.fdopen(os.dup(output), "wb")
    errors = _Written()
    written = [TextIOWrapper(stream, encoding) for stream in (out, errors)]
    with pytest.MonkeyPatch.context() as here, _as_it_was():
        for name, value in (environment or {}).items():
            here.setenv(name, value)
        if cwd:
            here.chdir(cwd)
        here.setattr(sys, "stdin", TextIOWrapper(BytesIO(as_bytes), encoding))
        here.setattr(sys, "stdout", written[0])
        here.setattr(sys, "stderr", written[1])
        here.setattr(sys, "argv", ["coach", *arguments])
        here.setattr(gc, "freeze", lambda: None)
        status = main()
    told = [out.getvalue() if isinstance(out, _Written) else b"", errors.getvalue()]
    out.close()
    if isinstance(typed, str):
        told = [text.decode(encoding) for text in told]
    done = CompletedProcess(("coach", *arguments), status, *told)
    if check:
        done.check_returncode()
    return done


@contextmanager
def _as_it_was() -> Iterator[None]:
    """Put back what the program leaves as it likes, since it ends."""
    heard, limits = signal.getsignal(signal.SIGINT), gc.get_threshold()
    signal.signal(signal.SIGINT, signal.default_int_handler)
    try:
        yield
    finally:
        gc.set_threshold(*limits)
        signal.signal(signal.SIGINT, heard)
