"""Which part of the time between two counts was work."""

from dataclasses import dataclass
from typing import Final

FAR: Final = 6.0  # times the running pace; log-normal ties with sd 0.45 pass it once in 30,000
SHORT_BREAK_S: Final = 60.0  # under this nobody has left the board, whatever the pace


@dataclass(frozen=True, slots=True)
class Gap:
    """Of one gap: `worked_s` to be added to the time worked, and whether all of it was work."""

    worked_s: float
    shows_pace: bool


def worked_gap(gap_s: float, running_pace_s: float) -> Gap:
    """Tell what of the time between two counts was work.

    Args:
        gap_s: Seconds from one count to the next, by a clock that never runs back.
        running_pace_s: Seconds that what was counted takes at the maker's present pace.

    Returns:
        The whole gap, or the running pace in its stead where the gap is far beyond it: then
        the maker was interrupted, and the gap says nothing of the pace.
    """
    gap_s = max(gap_s, 0.0)
    if gap_s > max(FAR * running_pace_s, SHORT_BREAK_S):
        return Gap(running_pace_s, shows_pace=False)
    return Gap(gap_s, shows_pace=True)
