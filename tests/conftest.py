"""What holds for every test: a home of its own for the coach, and no process that outlives it."""

from collections.abc import Iterator
from pathlib import Path

import processes
import pytest
from hypothesis import settings

# Nothing is drawn by chance, timed by the clock, or kept from one run for the next.
settings.register_profile("steady", derandomize=True, database=None, deadline=None)
settings.load_profile("steady")


@pytest.fixture(autouse=True)
def _alone(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    monkeypatch.setenv("COACH_HOME", str(tmp_path / "coach"))
    yield
    processes.end_all()
