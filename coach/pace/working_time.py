"""Working time: how much of a gap between counts was work, and when a rest is due."""

from dataclasses import dataclass
from typing import Final

FAR: Final = 6.0  # times the running pace; log-normal ties with sd 0.45 pass it once in 30,000
SHORT_BREAK_S: Final = 60.0  # under this nobody has left the board, whatever the pace


@dataclass(frozen=True, slots=True)
class Gap:
    """The part of a gap that was work, `worked_s`, and whether that is all of it."""

    worked_s: float
    shows_pace: bool


def worked_gap(gap_s: float, running_pace_s: float) -> Gap:
    """Return how much of the time between two counts was work.

    Args:
        gap_s: Seconds from one count to the next, by a monotonic clock.
        running_pace_s: Seconds that the counted work takes at the maker's current pace.

    Returns:
        The whole gap, or the current pace instead if the gap is far longer: then the maker was
            interrupted, and the gap says nothing of the pace.
    """
    gap_s = max(gap_s, 0.0)
    if gap_s > max(FAR * running_pace_s, SHORT_BREAK_S):
        return Gap(running_pace_s, shows_pace=False)
    return Gap(gap_s, shows_pace=True)


BREAK_MS: Final = 5 * 60 * 1000
"""A pause of this length is a rest; 5 to 10 minutes (UK HSE; quoted)."""

_MINUTE_S: Final = 60


class BreakReminder:
    """Measures the time worked in a sitting since the last rest.

    Only time that counts as work is measured, so a stopped clock reminds nobody.
    """

    def __init__(self, after_min: int) -> None:
        """Set the minutes of work after which to propose a rest; 0 never proposes one."""
        self._after_min = after_min
        self._since_s = 0.0
        self._seen_ms: int | None = None

    @property
    def begun(self) -> bool:
        """Whether anything has been counted in this sitting."""
        return self._seen_ms is not None

    def count(self, tick_ms: int, worked_s: float) -> None:
        """Record a count; a long gap before it was a rest.

        Args:
            tick_ms: When it was made, by a monotonic clock.
            worked_s: Time worked in the sitting so far, up to this count.
        """
        if self._seen_ms is not None and tick_ms - self._seen_ms >= BREAK_MS:
            self._since_s = worked_s
        self._seen_ms = tick_ms

    def proposal(self, worked_s: float) -> str:
        """Return the line that proposes a rest after `worked_s` of the sitting, or ""."""
        minutes = int((worked_s - self._since_s) // _MINUTE_S)
        if not self._after_min or minutes < self._after_min:
            return ""
        return f"{minutes} minutes of knotting: five to ten of rest would do your hands good."
