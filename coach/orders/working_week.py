"""The maker's working week, and the day on which work will be done.

Days are days of her own calendar, counted by date and not by 24 hours, so that the night on which
the clocks change is a night like every other.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Final

DAYS: Final = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
_LONGEST: Final = 20 * 366  # days that are looked ahead
_DAY: Final = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class DaysOff:
    """Days from `first` to `last`, inclusive, on which nothing is worked."""

    first: date
    last: date

    def __contains__(self, day: date) -> bool:
        """Return whether a day is one of them."""
        return self.first <= day <= self.last


@dataclass(frozen=True, slots=True)
class Week:
    """Seconds of work on each day from Monday, and the days off."""

    seconds: tuple[float, ...]
    off: tuple[DaysOff, ...] = ()

    def on(self, day: date) -> float:
        """Return the seconds of work on a day."""
        return 0.0 if any(day in days for days in self.off) else self.seconds[day.weekday()]


def ready_on(week: Week, today: date, work_s: float, worked_today_s: float = 0.0) -> date | None:
    """Return the day on which some work is done, None if that is beyond twenty years.

    Args:
        week: The hours.
        today: The first day that may be worked on, by the maker's own calendar.
        work_s: The seconds of work that are left.
        worked_today_s: How much of today's hours has been worked already.
    """
    left = work_s
    if left <= 0:
        return today
    for day, seconds in _from(week, today):
        left -= max(0.0, seconds - worked_today_s) if day == today else seconds
        if left <= 1e-6:  # noqa: PLR2004 - a sum of seconds that is nothing
            return day
    return None


def _from(week: Week, today: date) -> Iterator[tuple[date, float]]:
    """Yield the days from today on with the seconds that each has."""
    day = today
    for _ in range(_LONGEST):
        yield day, week.on(day)
        if day == date.max:
            return
        day += _DAY
