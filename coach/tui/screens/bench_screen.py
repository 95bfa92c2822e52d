"""What all screens of the bench share: one is closed once, and only while it is the current one."""

from typing import ClassVar, TypeVar

from textual.await_complete import AwaitComplete
from textual.screen import Screen

T = TypeVar("T")


class BenchScreen(Screen[T]):
    """A screen that can be closed from several sides at once, and closes once."""

    HOLDS_KEYS: ClassVar[bool] = False  # keys wait for the screen that comes after this one

    def dismiss(self, result: T | None = None) -> AwaitComplete:
        """Close this screen; where another one is current it is closed already, or is covered."""
        if not self.is_current:
            return AwaitComplete()
        return super().dismiss(result)
