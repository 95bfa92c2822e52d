"""Clocks and a database for the tests of pieces under way."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from hand_clock import HandClock

from coach.piece import Store


@pytest.fixture
def clock() -> HandClock:
    return HandClock()


@pytest.fixture
def database(tmp_path: Path) -> Path:
    return tmp_path / "data" / "coach.db"


@pytest.fixture
def store(database: Path) -> Iterator[Store]:
    with Store(database) as opened:
        yield opened
