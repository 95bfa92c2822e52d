"""Times and lengths in the short forms that a screen has room for; nothing ticks by seconds."""

import re
from datetime import datetime
from typing import Final

from coach.quantities import show_length
from coach.settings.settings import Units

_FIVE: Final = 5
_HOUR: Final = 60
_LENGTH: Final = re.compile(r"(?<![\w.])([0-9]+(?:\.[0-9]+)?) (mm|cm|m)\b")
_MM: Final = {"mm": 1.0, "cm": 10.0, "m": 1000.0}


def minutes(seconds: float) -> str:
    """Return a time in whole minutes: `0 min`, `12 min`, `1 h 3 min`."""
    hours, rest = divmod(int(seconds // 60), _HOUR)
    if not hours:
        return f"{rest} min"
    return f"{hours} h {rest} min" if rest else f"{hours} h"


def time_span(low_s: float, high_s: float) -> str:
    """Return a range of time: to the minute below ten, then to five: `40 to 55 min`."""
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


def clock_span(first: datetime, last: datetime) -> str:
    """Return when something will be over: `done 16:30 to 16:50`, with days if not today."""
    begin = f"done {first:%H:%M}"
    if first.date() != last.date():
        return f"{begin} to {last:%a %H:%M}"
    return begin if begin.endswith(f"{last:%H:%M}") else f"{begin} to {last:%H:%M}"


def local(at_ms: int) -> datetime:
    """Return a moment, in UTC epoch milliseconds, as it is on the maker's own clock."""
    return datetime.fromtimestamp(at_ms / 1000).astimezone()


def dated(moment: datetime) -> str:
    """Return a moment of any year: `Tue 4 Nov 2026, 16:30`."""
    return f"{moment:%a} {moment.day} {moment:%b %Y, %H:%M}"


def when(moment: datetime) -> str:
    """Return a moment as it is remembered: `Tue 4 Nov, 16:30`."""
    return f"{moment:%a} {moment.day} {moment:%b}, {moment:%H:%M}"


def length_span(low_mm: float, high_mm: float, units: Units = "cm") -> str:
    """Return a range of lengths, the unit once where both have the same: `12-18 cm`."""
    if units == "in":
        low, high = (show_length(25.4 * round(mm / 25.4), "in") for mm in (low_mm, high_mm))
    else:
        low, high = (show_length(_coarse(mm)) for mm in (low_mm, high_mm))
    if low == high:
        return low
    figure, unit = low.rsplit(" ", 1)
    return f"{figure}-{high}" if high.endswith(f" {unit}") else f"{low}-{high}"


def in_units(sentence: str, units: Units) -> str:
    """Return a sentence of ours with its lengths in these units."""
    if units == "cm":
        return sentence
    return _LENGTH.sub(lambda m: show_length(float(m[1]) * _MM[m[2]], units), sentence)


def _coarse(mm: float) -> float:
    """Round to what is known of it: whole centimetres, from a metre on five of them."""
    step = 10.0 if mm < 1000 else 50.0  # noqa: PLR2004 - a metre
    return step * round(mm / step)
