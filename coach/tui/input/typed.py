"""Queueing keys, taps and pasted text: each meets the screen that the one before it left.

The library hands everything at once to the screen that is current when it comes; of two in one
write the second still reaches a screen that the first has closed, or goes by one that is opening.
"""

import asyncio
from collections.abc import Iterator
from typing import Any, Final

from textual import events
from textual.app import App
from textual.message_pump import MessagePump

TYPED: Final = (events.InputEvent, events.Paste)
"""What hands do: keys, the mouse, pasted text."""


class Typed:
    """Hands keys, taps and pasted text to an app one at a time, in the order in which they came.

    Where the mouse only moves nothing waits, for nothing is done by that.
    """

    def __init__(self, app: App[Any]) -> None:
        """Take the app that they are for."""
        self._app = app
        self._waiting: asyncio.Queue[events.Event] = asyncio.Queue()
        self._turn: events.Event | None = None
        self._keys = 0  # that wait

    @property
    def more(self) -> bool:
        """Whether a key is typed already that has not had its turn."""
        return self._keys > 0

    @property
    def read_s(self) -> float | None:
        """When what has its turn was read, on the clock of the library's events."""
        return self._turn.time if self._turn else None

    def waits(self, event: events.Event) -> bool:
        """Queue what a hand did and return True; False if it has its turn, or waits for none."""
        if not isinstance(event, TYPED) or isinstance(event, events.MouseMove):
            return False
        if event.is_forwarded or event is self._turn:
            return False
        self._keys += isinstance(event, events.Key)
        self._waiting.put_nowait(event)
        return True

    async def hand_on(self) -> None:
        """Hand on each once all is done that the one before has led to; never returns."""
        while True:
            event = await self._waiting.get()
            while not self._settled():  # noqa: ASYNC110 - nobody tells when a queue is empty
                await asyncio.sleep(0)
            self._turn = event
            self._keys -= isinstance(event, events.Key)
            self._app.post_message(event)

    def _settled(self) -> bool:
        """Return whether no message waits anywhere, so that screens are open or gone for good."""
        return not any(pump.message_queue_size for pump in self._pumps())

    def _pumps(self) -> Iterator[MessagePump]:
        yield self._app
        for screen in self._app.screen_stack:
            yield from screen.walk_children(with_self=True)
