"""Times and lengths in the short forms that a screen needs; nothing shows seconds."""

from datetime import datetime
from typing import Final

from coach.pace.estimate import Range
from coach.quantities import show_length
from coach.settings.settings import Units

_FIVE: Final = 5
_HOUR: Final = 60


def minutes(seconds: float) -> str:
    """Return a time in whole minutes: `0 min`, `12 min`, `1 h 3 min`."""
    hours, rest = divmod(int(seconds // 60), _HOUR)
    if not hours:
        return f"{rest} min"
    return f"{hours} h {rest} min" if rest else f"{hours} h"


def time_span(low_s: float, high_s: float) -> str:
    """Return a range of time in its shortest form: `40 to 55 min`.

    Args:
        low_s: Its lower end, in seconds.
        high_s: Its upper end, in seconds.

    Returns:
        Minutes, exact below ten, from there on rounded to five.
    """
    low, high = _rounded(low_s), _rounded(high_s)
    if high <= 1:
        return "about 1 min"
    if low == high:
        return f"about {minutes(60 * high)}"
    if high < _HOUR:
        return f"{low} to {high} min"
    return f"{minutes(60 * low)} to {minutes(60 * high)}"


def _rounded(seconds: float) -> int:
    whole = max(1, round(seconds / 60))
    return whole if whole < 2 * _FIVE else _FIVE * round(whole / _FIVE)


def time_told(
    sitting_s: float, worked_s: float, left: Range | None, now_ms: int
) -> tuple[str, ...]:
    """Return the time of the sitting and of the piece, what is left, and when it is over.

    Args:
        sitting_s: Time worked in this sitting.
        worked_s: Time worked on the piece so far.
        left: The time that it still takes; None when all is made.
        now_ms: The moment, in UTC epoch milliseconds.
    """
    sitting, so_far = minutes(sitting_s), minutes(worked_s)
    if left is None:
        return (f"{so_far} in all", *([f"{sitting} this sitting"] if sitting != so_far else []))
    spent = (f"this sitting {sitting}", f"so far {so_far}")
    first, last = (
        local_time(now_ms + round(1000 * after_s)) for after_s in (left.low_s, left.high_s)
    )
    return (*spent, f"to go {time_span(left.low_s, left.high_s)}", clock_span(first, last))


def clock_span(first: datetime, last: datetime) -> str:
    """Return when the piece is over: `finished between 16:30 and 16:50`, with a later day named."""
    if first.date() != last.date():
        return f"finished between {first:%H:%M} and {last:%a %H:%M}"
    begin, end = f"{first:%H:%M}", f"{last:%H:%M}"
    return f"finished about {end}" if begin == end else f"finished between {begin} and {end}"


def local_time(at_ms: int) -> datetime:
    """Return a moment, in UTC epoch milliseconds, in the maker's own time zone."""
    return datetime.fromtimestamp(at_ms / 1000).astimezone()


def dated_moment(moment: datetime) -> str:
    """Return a moment with its year: `Tue 4 Nov 2026, 16:30`."""
    return f"{moment:%a} {moment.day} {moment:%b %Y, %H:%M}"


def short_moment(moment: datetime) -> str:
    """Return a moment of this year where there is little room: `Tue 4 Nov, 16:30`."""
    return f"{moment:%a} {moment.day} {moment:%b}, {moment:%H:%M}"


def moment_words(moment: datetime) -> str:
    """Return a moment of this year: `Tuesday 4 November, 16:30`."""
    return f"{moment:%A} {moment.day} {moment:%B}, {moment:%H:%M}"


def length_span(low_mm: float, high_mm: float, units: Units = "cm") -> str:
    """Return a range of lengths, the unit once where both ends have the same: `12-18 cm`.

    Args:
        low_mm: The shorter one.
        high_mm: The longer one.
        units: The maker's units.
    """
    if units == "in":
        low, high = (show_length(25.4 * round(mm / 25.4), "in") for mm in (low_mm, high_mm))
    else:
        low, high = (show_length(_coarse(mm)) for mm in (low_mm, high_mm))
    if low == high:
        return low
    figure, unit = low.rsplit(" ", 1)
    return f"{figure}-{high}" if high.endswith(f" {unit}") else f"{low}-{high}"


def _coarse(mm: float) -> float:
    """Return a length rounded to its accuracy: 1 cm, from 1 m on 5 cm."""
    step = 10.0 if mm < 1000 else 50.0  # noqa: PLR2004 - a metre
    return step * round(mm / step)
