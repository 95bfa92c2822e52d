"""The day that it is for the maker."""

from datetime import date

from coach.piece import SystemClock
from coach.session.time_format import local


def today() -> date:
    """Return the day that it is for the maker, wherever her clock stands."""
    return local(SystemClock().now_ms()).date()
