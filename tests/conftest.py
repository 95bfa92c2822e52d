"""What holds for every test: a home of its own for the coach, and no process that outlives it."""

import compileall
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

import coach
from coach.piece.piece_errors import PieceError
from coach.piece.storage import writer
from coach.piece.storage.database import Database
from coach.tui.piece_opener import RUBBISH

sys.dont_write_bytecode = False  # else every worker compiles all modules in every run
if "PYTEST_XDIST_WORKER" not in os.environ:
    compileall.compile_dir(Path(coach.__file__).parent, quiet=2, workers=0)  # once for all workers
os.environ.setdefault("OMP_NUM_THREADS", "1")  # a worker is one thread, numpy in it too
gc.set_threshold(RUBBISH)
_FREEZE = gc.freeze
gc.freeze = gc.unfreeze = lambda: None  # else closing a piece is a look at all that tests loaded
writer.MOMENT_S = 60.0  # type: ignore[misc]  # a busy machine is no slow disk
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


@pytest.fixture(autouse=True)
def _alone(
    request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[None]:
    """Let a test have a coach of its own, and leave nothing of it running or open.

    The coach lives in the test's folder, if it has asked for one: a folder for every test would
    take a look at all those that were made before. From 3.13 on Python warns of databases left
    open.
    """
    if "tmp_path" in request.fixturenames:
        home: Path = request.getfixturevalue("tmp_path") / "coach"
    else:
        home = tmp_path_factory.getbasetemp() / "homes" / str(next(_HOMES))
    os.environ["COACH_HOME"] = str(home)
    yield
    processes.end_all()
    while _opened:
        with suppress(PieceError):
            _opened.pop().close()


def _open_noted(database: Database, path: Path) -> None:
    _open(database, path)
    _opened.append(database)


_opened: list[Database] = []
_open = Database.__init__
Database.__init__ = _open_noted  # type: ignore[method-assign]
