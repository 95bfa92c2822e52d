"""What tests start ends with them, hears ctrl+c, and is waited for only so long."""

import ast
import os
import signal
import sys
from pathlib import Path

import pytest
from processes import Started

TESTS = Path(__file__).parent
# The last is run by hand and measures what the system tells of a child that it made itself.
MAY_START = {TESTS / "processes.py", TESTS / "forks.py", TESTS / "bench" / "start.py"}
STARTS = {"subprocess", "multiprocessing", "pty", "concurrent.futures"}
CALLS = {
    "fork",
    "forkpty",
    "posix_spawn",
    "posix_spawnp",
    "popen",
    "system",
    "create_subprocess_exec",
}
READY = "print('ready', flush=True)\n"


def starts_of(path: Path) -> set[str]:
    """Return what in a file starts processes."""
    found: set[str] = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names} & STARTS
        elif isinstance(node, ast.ImportFrom):
            found |= {node.module or ""} & STARTS
        elif isinstance(node, ast.Attribute):
            found |= {node.attr} & CALLS
    return found


def test_processes_are_started_in_one_place() -> None:
    elsewhere = {path: starts_of(path) for path in TESTS.rglob("*.py") if path not in MAY_START}
    assert not {path: found for path, found in elsewhere.items() if found}
    assert all(starts_of(path) for path in MAY_START)


def test_what_is_started_hears_ctrl_c_where_nobody_does() -> None:
    """As under `nohup … &` in a script, which starts what it starts with ctrl+c ignored."""
    before = signal.signal(signal.SIGINT, signal.SIG_IGN)
    try:
        waits = f"import signal\n{READY}signal.pause()"
        with Started([sys.executable, "-c", waits]) as process:
            assert process.stdout.readline() == "ready\n"
            process.send_signal(signal.SIGINT)
            assert process.wait() != 0
            assert "KeyboardInterrupt" in process.stderr.read()
        assert signal.getsignal(signal.SIGINT) is signal.SIG_IGN
    finally:
        signal.signal(signal.SIGINT, before)


def test_what_was_started_ends_with_all_that_it_started() -> None:
    """Its child holds the writing end of a pipe, of which the reading end ends with it."""
    reading, writing = os.pipe()
    child = "import signal; signal.pause()"
    parent = (
        f"import subprocess, sys, signal\n"
        f"subprocess.Popen([sys.executable, '-c', {child!r}], close_fds=False)\n{READY}"
        "signal.pause()"
    )
    with Started([sys.executable, "-c", parent], pass_fds=(writing,)) as process:
        os.close(writing)
        assert process.stdout.readline() == "ready\n"
    assert os.read(reading, 1) == b""
    os.close(reading)


def test_every_test_has_a_time_limit(pytestconfig: pytest.Config) -> None:
    assert 0 < float(pytestconfig.getini("timeout")) <= 120
    assert pytestconfig.pluginmanager.hasplugin("timeout")
