"""What is typed waits for its turn, so that each key meets the screen that the one before left.

The library hands every key at once to the screen that is current when it comes; of two in one
write the second still reaches a screen that the first has closed, or goes by one that is opening.
"""

import asyncio
from collections.abc import Iterator
from typing import Any

from textual import events
from textual.app import App
from textual.message_pump import MessagePump

from coach.tui.screens.bench_screen import BenchScreen

_HELD_S = 0.005  # between two looks at a screen that holds keys


class Typed:
    """Keys and pasted text in the order in which they were read, handed on one at a time."""

    def __init__(self, app: App[Any]) -> None:
        """Take the app that they are for."""
        self._app = app
        self._waiting: asyncio.Queue[events.Event] = asyncio.Queue()
        self._turn: events.Event | None = None

    def waits(self, event: events.Event) -> bool:
        """Let a key wait for its turn; False for one whose turn it is, and for all other events."""
        if not isinstance(event, events.Key | events.Paste) or event.is_forwarded:
            return False
        if event is self._turn:
            return False
        self._waiting.put_nowait(event)
        return True

    async def hand_on(self) -> None:
        """Hand on each as soon as all is done that the one before has led to; goes on for ever."""
        while True:
            event = await self._waiting.get()
            while not self._settled():  # noqa: ASYNC110 - nobody tells when a queue is empty
                await asyncio.sleep(_HELD_S if self._held() else 0)
            self._turn = event
            self._app.post_message(event)

    def _settled(self) -> bool:
        """Whether no message waits anywhere: screens that are opened are there, others gone."""
        return not self._held() and not any(pump.message_queue_size for pump in self._pumps())

    def _held(self) -> bool:
        current = self._app.screen_stack[-1:]
        return any(isinstance(screen, BenchScreen) and screen.HOLDS_KEYS for screen in current)

    def _pumps(self) -> Iterator[MessagePump]:
        yield self._app
        for screen in self._app.screen_stack:
            yield from screen.walk_children(with_self=True)
