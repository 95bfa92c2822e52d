"""The two clocks: what o'clock it is, and how much time has gone by."""

import time
from typing import Protocol


class Clock(Protocol):
    """What the coach asks of a clock."""

    def now_ms(self) -> int:
        """UTC in milliseconds since 1970; may jump either way when it is set."""

    def tick_ms(self) -> int:
        """Milliseconds since some moment of its own; never runs back."""

    def tick_at(self, monotonic_s: float) -> int:
        """Milliseconds for a reading of the monotonic clock, in seconds, that was taken before."""


class SystemClock:
    """The machine's clocks."""

    def now_ms(self) -> int:
        """UTC in milliseconds since 1970."""
        return time.time_ns() // 1_000_000

    def tick_ms(self) -> int:
        """Monotonic milliseconds; whether they run on while the machine sleeps is its affair."""
        return time.monotonic_ns() // 1_000_000

    def tick_at(self, monotonic_s: float) -> int:
        """Milliseconds, as `tick_ms` would have told them then."""
        return int(monotonic_s * 1000)
