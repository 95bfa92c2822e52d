"""Waiting until an app of the tests has done all that it has to do.

The library sleeps twice for a fiftieth of a second after each key and looks at how much of the
processor was used meanwhile: most of the time of a test of screens, and never sure.
"""

import asyncio
from typing import Any

from textual import app, pilot, screen

SOON_S = 0.025  # seconds; what is due later is no part of what a key does
PAINTED_S = 1 / 2000  # after what has changed; the library waits for a sixtieth of a second
ROUNDS = 3


async def settled(_: float = 0.0, most_s: float = 1.0) -> None:
    """Wait until the loop has nothing ready and nothing that is due soon, three times in a row.

    Between the rounds events of files and of other threads have their turn.
    """
    loop: Any = asyncio.get_running_loop()
    end, quiet = loop.time() + most_s, 0
    while quiet < ROUNDS and loop.time() < end:
        await asyncio.sleep(0.001 if quiet else 0)
        waits_s = _next_s(loop)
        quiet = quiet + 1 if waits_s > SOON_S else 0
        if 0 < waits_s <= SOON_S:
            await asyncio.sleep(waits_s)


def _next_s(loop: Any) -> float:
    """Return in how many seconds the loop has something to do; asyncio tells it nowhere."""
    if loop._ready:
        return 0.0
    due = (timer.when() for timer in loop._scheduled if not timer.cancelled())
    return float(max(0.0, min(due, default=float("inf")) - loop.time()))


def forget_cancelled_timers() -> None:
    """Drop the contexts of cancelled timers, which asyncio keeps until they would have been due."""
    loop: Any = asyncio.get_running_loop()
    for timer in loop._scheduled:
        if timer.cancelled():
            timer._context = None


def wait_until_settled() -> None:
    """Let every key and pause of a pilot wait like this."""
    for module in (app, pilot):
        module.wait_for_idle = settled
    screen.UPDATE_PERIOD = PAINTED_S  # type: ignore[misc]
