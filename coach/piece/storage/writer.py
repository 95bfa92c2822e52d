"""The thread that reads and writes a bench's store, with a time limit for the caller.

A disk may take long over a single write: a full card, a stick that wakes up, a network
drive that hangs. The screen goes on meanwhile; what is not on the disk yet is shown as waiting.
"""

from collections.abc import Callable
from concurrent.futures import Future, ThreadPoolExecutor, wait
from typing import Final, TypeVar

from coach.piece.piece_errors import StillWriting

T = TypeVar("T")
MOMENT_S: Final = 0.1
"""How long a hand does not notice that it waits (common practice, no source)."""


class Writer:
    """Runs one operation after the other on a thread of its own, started with the first."""

    def __init__(self) -> None:
        self._thread: ThreadPoolExecutor | None = None

    def ask(self, deed: Callable[[], T]) -> Future[T]:
        """Queue an operation, and return its future."""
        if self._thread is None:
            self._thread = ThreadPoolExecutor(1, "store")
        return self._thread.submit(deed)

    def close(self) -> None:
        """Wait for all queued operations; later ones start a new thread."""
        thread, self._thread = self._thread, None
        if thread:
            thread.shutdown(wait=True)


def wait_for(asked: Future[T], most_s: float) -> T:
    """Return the result of an operation, or raise what it raises.

    Raises:
        StillWriting: It is not finished after so many seconds; it goes on.
    """
    if not wait((asked,), most_s).done:
        raise StillWriting("The disk is slow to answer.")
    return asked.result()
