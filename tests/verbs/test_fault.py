"""A fault of the coach's own is told in one line, and kept with what whoever mends it must know.

Needs POSIX: pipes and devices with a name and rights of files.
"""

import os
import platform
from pathlib import Path

import pytest

from coach import __version__
from coach.cli.fault import report_fault
from coach.piece.storage.folders import folders

CALL = ("plan", "Łódź belt.yaml", "--length", "20 cm")


class Noon:
    """A clock that stands at noon, UTC, of 28 November 2026."""

    def now_ms(self) -> int:
        return 1_795_867_200_000

    def tick_ms(self) -> int:
        return 0


def kept_in() -> Path:
    return folders(os.environ).cache / "fault.txt"


def faulty(what: str, call: tuple[str, ...] = CALL) -> int:
    """Let something go wrong and tell it."""
    fault = RuntimeError(what)
    return report_fault(fault, call, Noon())


def test_the_file_says_versions_system_time_call_and_place(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert faulty("the tide came in") == 1
    told = capsys.readouterr().err
    assert told.count("\n") == 1
    assert str(kept_in()) in told
    head, when, call, *rest = kept_in().read_text(encoding="utf-8").splitlines()
    assert head == f"coach {__version__}, Python {platform.python_version()}, {platform.platform()}"
    assert when.startswith("2026-11-2")
    assert call == "$ coach plan 'Łódź belt.yaml' --length '20 cm'"
    assert "RuntimeError: the tide came in" in rest


def test_the_last_five_are_kept_the_newest_first() -> None:
    for number in range(7):
        faulty(f"fault {number}")
    text = kept_in().read_text(encoding="utf-8")
    assert [line for line in text.splitlines() if line.startswith("RuntimeError")] == [
        f"RuntimeError: fault {number}" for number in (6, 5, 4, 3, 2)
    ]
    assert text.count(f"coach {__version__}, Python ") == 5
    assert kept_in().stat().st_mode & 0o777 == 0o600


def test_nothing_in_it_acts_on_a_terminal() -> None:
    faulty("\x1b[2J\u202e", ("pieces", "\x1b]0;x\x07"))
    assert kept_in().read_text(encoding="utf-8").replace("\n", "").isprintable()


@pytest.mark.parametrize("before", [b"Traceback: an older kind\n", b"\xff\xfe\x00", b""])
def test_whatever_was_in_the_file_is_no_hindrance(before: bytes) -> None:
    kept_in().parent.mkdir(parents=True)
    kept_in().write_bytes(before)
    faulty("again")
    assert "RuntimeError: again" in kept_in().read_text(encoding="utf-8")


def test_a_fault_is_told_where_nothing_can_be_kept(capsys: pytest.CaptureFixture[str]) -> None:
    kept_in().mkdir(parents=True)
    assert faulty("no room") == 1
    told = capsys.readouterr().err
    assert "RuntimeError" in told
    assert "details" not in told


def test_what_has_its_name_is_not_waited_for() -> None:
    kept_in().parent.mkdir(parents=True)
    os.mkfifo(kept_in())
    assert faulty("a pipe") == 1
