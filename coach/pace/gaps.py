"""How much of the time between two counts was work."""

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
