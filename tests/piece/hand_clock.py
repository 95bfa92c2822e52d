"""A clock for tests."""

from dataclasses import dataclass


@dataclass
class HandClock:
    """A clock that goes on when it is told to."""

    now: int = 1_900_000_000_000
    tick: int = 5_000_000

    def now_ms(self) -> int:
        return self.now

    def tick_ms(self) -> int:
        return self.tick

    def go_on(self, seconds: float) -> None:
        self.now += round(seconds * 1000)
        self.tick += round(seconds * 1000)
