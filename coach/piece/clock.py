"""The two clocks: the time of day, and a monotonic one for durations."""

import time
from typing import Final, Protocol

LAST_MS: Final = 2**47
"""The year 6429, after which no moment is kept."""


class Clock(Protocol):
    """What the coach needs of a clock."""

    def now_ms(self) -> int:
        """Return UTC in ms since 1970, up to `LAST_MS`; may jump when the clock is set."""

    def tick_ms(self) -> int:
        """Return monotonic milliseconds since some moment."""

    def tick_at(self, monotonic_s: float) -> int:
        """Return what `tick_ms` was at an earlier reading of the monotonic clock, in seconds."""


class SystemClock:
    """The machine's clocks."""

    def now_ms(self) -> int:
        """Return UTC in milliseconds since 1970; 0 for a clock set before that."""
        return min(max(0, time.time_ns() // 1_000_000), LAST_MS)

    def tick_ms(self) -> int:
        """Return monotonic milliseconds; whether they include sleep depends on the system."""
        return time.monotonic_ns() // 1_000_000

    def tick_at(self, monotonic_s: float) -> int:
        """Return what `tick_ms` was at an earlier reading of the monotonic clock."""
        return int(monotonic_s * 1000)
