"""Queueing what is typed, so that each key meets the screen that the one before it left.

The library hands every key at once to the screen that is current when it comes; of two in one
write the second still reaches a screen that the first has closed, or goes by one that is opening.
"""

import asyncio
from collections.abc import Iterator
from typing import Any

from textual import events
from textual.app import App
from textual.message_pump import MessagePump


class Typed:
    """Hands keys and pasted text to an app one at a time, in the order in which they were read."""

    def __init__(self, app: App[Any]) -> None:
        """Take the app that they are for."""
        self._app = app
        self._waiting: asyncio.Queue[events.Event] = asyncio.Queue()
        self._turn: events.Event | None = None
        self._next: events.Event | None = None  # taken from the queue, its turn not come yet

    @property
    def more(self) -> bool:
        """Whether something is typed already that has not had its turn."""
        return self._next is not None or not self._waiting.empty()

    def waits(self, event: events.Event) -> bool:
        """Queue a key or pasted text and return True; False if it has its turn, or is neither."""
        if not isinstance(event, events.Key | events.Paste) or event.is_forwarded:
            return False
        if event is self._turn:
            return False
        self._waiting.put_nowait(event)
        return True

    async def hand_on(self) -> None:
        """Hand on each once all is done that the one before has led to; never returns."""
        while True:
            event = self._next = await self._waiting.get()
            while not self._settled():  # noqa: ASYNC110 - nobody tells when a queue is empty
                await asyncio.sleep(0)
            self._turn, self._next = event, None
            self._app.post_message(event)

    def _settled(self) -> bool:
        """Return whether no message waits anywhere, so that screens are open or gone for good."""
        return not any(pump.message_queue_size for pump in self._pumps())

    def _pumps(self) -> Iterator[MessagePump]:
        yield self._app
        for screen in self._app.screen_stack:
            yield from screen.walk_children(with_self=True)
