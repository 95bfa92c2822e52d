"""Two calls in the same instant, over and over: no two times fall together alike."""

from pathlib import Path

import pytest
from test_started_together import called_at_once


@pytest.mark.parametrize("time", range(2, 8))
def test_two_calls_at_once_work_on_one_piece(tmp_path: Path, time: int) -> None:
    called_at_once(tmp_path, time)
