"""The two clocks: what o'clock it is, and how much time has gone by."""

import time
from typing import Final, Protocol

LAST_MS: Final = 2**47
"""The year 6429, after which no moment is kept."""


class Clock(Protocol):
    """What the coach asks of a clock."""

    def now_ms(self) -> int:
        """UTC in milliseconds since 1970, up to `LAST_MS`; may jump either way when it is set."""

    def tick_ms(self) -> int:
        """Milliseconds since some moment of its own; never runs back."""

    def tick_at(self, monotonic_s: float) -> int:
        """Milliseconds for a reading of the monotonic clock, in seconds, that was taken before."""


class SystemClock:
    """The machine's clocks."""

    def now_ms(self) -> int:
        """UTC in milliseconds since 1970; a clock that is set before that stands at 1970."""
        return min(max(0, time.time_ns() // 1_000_000), LAST_MS)

    def tick_ms(self) -> int:
        """Monotonic milliseconds; whether they run on while the machine sleeps is its affair."""
        return time.monotonic_ns() // 1_000_000

    def tick_at(self, monotonic_s: float) -> int:
        """Milliseconds, as `tick_ms` would have told them then."""
        return int(monotonic_s * 1000)
