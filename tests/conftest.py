"""What holds for every test: a home of its own for the coach, and no process that outlives it."""

import gc
import os
import sys
from collections.abc import Iterator
from contextlib import suppress
from itertools import count
from pathlib import Path

import kept_plans
import processes
import pytest
from examples import ALL, SHARE, STEADY, USUAL, share_of
from hypothesis import settings
from parsed_styles import parse_once
from settled import wait_until_settled

from coach.piece.piece_errors import PieceError
from coach.piece.storage import writer
from coach.piece.storage.database import Database
from coach.tui.piece_opener import RUBBISH

sys.dont_write_bytecode = False  # else every worker compiles all modules in every run
os.environ.setdefault("OMP_NUM_THREADS", "1")  # a worker is one thread, numpy in it too
gc.set_threshold(RUBBISH)
_FREEZE = gc.freeze
_HOMES = count()

settings.register_profile(SHARE, STEADY, max_examples=share_of(USUAL))
settings.register_profile(ALL, STEADY)
settings.load_profile(SHARE)
parse_once()
compiled_anew = kept_plans.compiled_anew
wait_until_settled()


@pytest.fixture(autouse=True, scope="module")
def _little_rubbish() -> None:
    """Look for rubbish among what a module's tests make, not among all that was made before.

    The bench does whenever a piece is opened.
    """
    gc.collect()
    _FREEZE()


@pytest.fixture
def _home_of_the_coach(
    request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory
) -> Path:
    """Return where the coach of a test lives: in the test's folder, if it has asked for one.

    A folder for every test would take a look at all those that were made before.
    """
    if "tmp_path" in request.fixturenames:
        folder: Path = request.getfixturevalue("tmp_path")
        return folder / "coach"
    return tmp_path_factory.getbasetemp() / "homes" / str(next(_HOMES))


@pytest.fixture(autouse=True)
def _alone(_home_of_the_coach: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    for hides in ("freeze", "unfreeze"):  # else closing a piece is a look at all that tests loaded
        monkeypatch.setattr(gc, hides, lambda: None)
    monkeypatch.setenv("COACH_HOME", str(_home_of_the_coach))
    monkeypatch.setattr(writer, "MOMENT_S", 60.0)  # a busy machine is no slow disk
    yield
    processes.end_all()


@pytest.fixture(autouse=True)
def _closed(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """Close the databases that a test leaves open; from 3.13 on Python warns of them."""
    opened: list[Database] = []
    begin = Database.__init__

    def noted(self: Database, path: Path) -> None:
        begin(self, path)
        opened.append(self)

    monkeypatch.setattr(Database, "__init__", noted)
    yield
    for database in opened:
        with suppress(PieceError):
            database.close()
