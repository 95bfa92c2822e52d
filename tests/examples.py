"""How many examples are drawn for a test: a share in the tests, all of them in `.ci/run`."""

from typing import Any, Final

from hypothesis import settings

ALL: Final = "all examples"
SHARE: Final = "steady"
USUAL: Final = 100  # what the library draws where a test does not say
_LEAST = 25

# Nothing is drawn by chance, timed by the clock, or kept from one run for the next.
STEADY: Final = settings(derandomize=True, database=None, deadline=None)


def share_of(most: int) -> int:
    """Return how many of so many examples the tests draw."""
    return min(most, max(_LEAST, most // 4))


def examples(most: int, **more: Any) -> settings:
    """Return the settings of a test that draws so many examples where all are drawn."""
    every = settings.get_current_profile_name() == ALL
    return settings(max_examples=most if every else share_of(most), **more)
