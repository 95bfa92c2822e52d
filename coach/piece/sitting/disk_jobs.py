"""Running a sitting's disk operations one after the other, each with a time limit."""

from collections.abc import Callable, Iterator
from concurrent.futures import Future
from contextlib import contextmanager, suppress
from functools import partial
from typing import Final, TypeAlias

from coach.piece.piece_errors import PieceError, StillWriting
from coach.piece.sitting.stored_piece import DiskResult
from coach.piece.storage import writer
from coach.piece.storage.store import Store

Deed: TypeAlias = Callable[[], DiskResult | None]
"""Something that is done on the disk."""

LEAVING_S: Final = 1.0
"""How long it is waited on leaving for what is on its way to the disk."""


class DiskJobs:
    """Runs operations at once or, once the bench is on screen, on another thread."""

    def __init__(self, store: Store) -> None:
        """Set the store that the operations read and write."""
        self._store = store
        self._hurried = self._leaving = False  # whether a hand waits, and for what
        self.asked: Future[DiskResult | None] | None = None  # the deed that is not over yet

    def hurry(self) -> None:
        """From here on wait only briefly for an operation, which then goes on in the background."""
        if not self._hurried:
            self._hurried = True
            with suppress(PieceError):  # what cannot be written will be told of
                self._store.hurry()

    @contextmanager
    def at_leisure(self) -> Iterator[None]:
        """Wait for as long as is acceptable on leaving, inside this block."""
        self._leaving = True
        try:
            yield
        finally:
            self._leaving = False

    @property
    def most_s(self) -> float:
        """The current time limit, in seconds."""
        return LEAVING_S if self._leaving else writer.MOMENT_S

    def ask(self, deed: Deed) -> DiskResult | None:
        """Run an operation and return its result.

        Raises:
            StillWriting: It takes longer than the time limit; `hear` then returns its result.
        """
        if not self._hurried:
            # Commands and plain lines have no screen to keep moving, so they wait in their own
            # thread.
            return deed()
        unhurried = partial(_unhurried, self._store, deed)
        self.asked = self._store.writer.ask(unhurried if self._leaving else deed)
        return self.hear(self.most_s)

    def hear(self, most_s: float = 0) -> DiskResult | None:
        """Return the result of the operation that took too long, None if there is none.

        Raises:
            StillWriting: It still goes on. Otherwise raises what the operation raised.
        """
        if self.asked is None:
            return None
        try:
            heard = writer.wait_for(self.asked, most_s)
        # The operation goes on; `asked` keeps it, so that the next call hears its result.
        except StillWriting:
            raise
        # Its result was heard, even if it is a fault: without this, every later call would raise
        # it.
        except BaseException:
            self.asked = None
            raise
        self.asked = None
        return heard


def _unhurried(store: Store, deed: Deed) -> DiskResult | None:
    """Run an operation with the usual timeout for other programs."""
    with store.at_leisure():
        return deed()
