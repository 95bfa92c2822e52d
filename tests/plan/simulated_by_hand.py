"""Thousands of random projects against the simulator, by hand: from a seed up to another."""

import sys
import time
from pathlib import Path

HERE = Path(__file__).parent
sys.path[:0] = [str(HERE.parents[1]), str(HERE.parent), str(HERE)]

from test_simulated import differences  # noqa: E402 - found on the line above


def test_thousands_of_random_projects_tie_what_the_page_says() -> None:
    see(1_000, 4_000)


def see(first: int, last: int) -> None:
    begun_s = time.monotonic()
    found = [told for seed in range(first, last) if (told := differences(seed))]
    sys.stdout.write("\n".join(found))
    sys.stdout.write(f"{last - first} projects, {len(found)} differ, ")
    sys.stdout.write(f"{time.monotonic() - begun_s:.0f} s\n")
    assert not found


if __name__ == "__main__":
    see(int(sys.argv[1]), int(sys.argv[2]))
