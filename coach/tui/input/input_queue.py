"""Queueing keys, taps and pasted text, so that each meets the screen left by the one before.

Textual hands everything at once to the screen that is current when it comes: of two keys in one
write, the second would still reach a screen that the first has closed, or miss one just opening.
"""

import asyncio
from collections.abc import Iterator
from typing import Any, Final

from textual import events
from textual.app import App
from textual.message_pump import MessagePump

TYPED: Final = (events.InputEvent, events.Paste)
"""What hands do: keys, the mouse, pasted text."""


class InputQueue:
    """Passes keys, taps and pasted text to an app one at a time, in order.

    Mouse moves are not queued, since they do nothing.
    """

    def __init__(self, app: App[Any]) -> None:
        """Set the app."""
        self._app = app
        self._waiting: asyncio.Queue[events.Event] = asyncio.Queue()
        self._turn: events.Event | None = None
        self._keys = 0  # that wait

    @property
    def more(self) -> bool:
        """Whether another key is waiting."""
        return self._keys > 0

    @property
    def read_s(self) -> float | None:
        """When the current input was read, on the clock of Textual's events."""
        return self._turn.time if self._turn else None

    def waits(self, event: events.Event) -> bool:
        """Queue input and return True; return False if it is its turn, or it needs none."""
        if not isinstance(event, TYPED) or isinstance(event, events.MouseMove):
            return False
        # The screen's turn: `hand_on` has posted it, or the app has passed it on.
        if event.is_forwarded or event is self._turn:
            return False
        self._keys += isinstance(event, events.Key)
        self._waiting.put_nowait(event)
        return True

    async def hand_on(self) -> None:
        """Pass each input on once the one before is fully processed; never returns."""
        while True:
            event = await self._waiting.get()
            # A closing screen stays current until its own messages are dealt with.
            while not self._settled():  # noqa: ASYNC110 - nobody tells when a queue is empty
                await asyncio.sleep(0)
            self._turn = event
            self._keys -= isinstance(event, events.Key)
            self._app.post_message(event)

    def _settled(self) -> bool:
        """Return whether no message waits anywhere, so that screens have opened or closed."""
        return not any(pump.message_queue_size for pump in self._pumps())

    def _pumps(self) -> Iterator[MessagePump]:
        yield self._app
        for screen in self._app.screen_stack:
            yield from screen.walk_children(with_self=True)
