"""The thread on which a bench's store is read and written, and for which only a moment is waited.

A disk may take long over a single writing: a card that is full, a stick that wakes, a network
drive that hangs. The screen goes on meanwhile; what is not on the disk yet is told as waiting.
"""

from collections.abc import Callable
from concurrent.futures import Future, ThreadPoolExecutor, wait
from typing import Final, TypeVar

from coach.piece.piece_errors import StillWriting

T = TypeVar("T")
MOMENT_S: Final = 0.1
"""How long a hand does not notice that it waits (common practice, no source)."""


class Writer:
    """Carries out one deed after the other on a thread of its own, which begins with the first."""

    def __init__(self) -> None:
        self._thread: ThreadPoolExecutor | None = None

    def ask(self, deed: Callable[[], T]) -> Future[T]:
        """Queue a deed, and return where what comes of it is found."""
        if self._thread is None:
            self._thread = ThreadPoolExecutor(1, "store")
        return self._thread.submit(deed)

    def close(self) -> None:
        """Wait for all that was asked for; what is asked for later begins a new thread."""
        thread, self._thread = self._thread, None
        if thread:
            thread.shutdown(wait=True)


def within(asked: Future[T], most_s: float) -> T:
    """Return what comes of a deed, or raise what it raises.

    Raises:
        StillWriting: It is not over after so many seconds; it goes on.
    """
    if not wait((asked,), most_s).done:
        raise StillWriting("The disk is slow to answer.")
    return asked.result()
