"""A few crashes of each kind; the large numbers are run by hand with the same code."""

import random
from pathlib import Path

from crashes import count_together, kill_bench, kill_counting


def test_the_bench_killed_in_a_terminal_has_kept_what_it_showed(tmp_path: Path) -> None:
    outcome = kill_bench(tmp_path, 3, random.Random(3))  # noqa: S311 - moments, no secrets
    assert outcome.lost == 0
    assert outcome.most_beyond <= 1
    assert outcome.shown >= 3


def test_a_counting_program_killed_has_kept_what_it_printed(tmp_path: Path) -> None:
    outcome = kill_counting(tmp_path, 4, random.Random(4))  # noqa: S311 - moments, no secrets
    assert (outcome.times, outcome.lost) == (4, 0)
    assert outcome.most_beyond <= 1


def test_two_programs_at_once_lose_and_double_nothing(tmp_path: Path) -> None:
    outcome = count_together(tmp_path, 120)
    assert (outcome.shown, outcome.lost, outcome.most_beyond) == (120, 0, 0)
