"""A database that another program holds keeps no screen waiting: it is said at once."""

import argparse
import sqlite3
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path

import pytest

from coach.cli import terminal
from coach.cli.commands import home
from coach.cli.commands.orders import desk
from coach.piece.storage.database import RETRY_TIMEOUT_S
from coach.tui import app
from coach.tui.desk_app import DeskApp


@pytest.mark.parametrize("verb", ["home", "desk"])
def test_no_screen_waits_long_for_another_program(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, verb: str
) -> None:
    """What is asked of the database while a screen is shown waits as long as a key may."""
    waits: list[float] = []
    connect: Callable[..., sqlite3.Connection] = sqlite3.connect
    opened: list[sqlite3.Connection] = []

    def noted(*given: object, **how: object) -> sqlite3.Connection:
        opened.append(connect(*given, **how))
        return opened[-1]

    def shown(*_: object, **__: object) -> int:
        for one in opened:
            with suppress(sqlite3.ProgrammingError):  # it is closed
                waits.append(one.execute("PRAGMA busy_timeout").fetchone()[0] / 1000)
        return 0

    monkeypatch.setenv("COACH_HOME", str(tmp_path))
    monkeypatch.setattr(terminal, "is_interactive", lambda: True)
    monkeypatch.setattr(sqlite3, "connect", noted)
    monkeypatch.setattr(app, "run_list", shown)
    monkeypatch.setattr(DeskApp, "run", shown)
    run = home.run if verb == "home" else desk.run
    assert run(argparse.Namespace(project="")) == 0
    assert waits == [RETRY_TIMEOUT_S]
