"""What a sitting asks of the disk, one deed after the other, and how long it waits for each."""

from collections.abc import Callable, Iterator
from concurrent.futures import Future
from contextlib import contextmanager, suppress
from functools import partial
from typing import Final, TypeAlias

from coach.piece.piece_errors import PieceError, StillWriting
from coach.piece.sitting.stored_piece import Heard
from coach.piece.storage import writer
from coach.piece.storage.store import Store

Deed: TypeAlias = Callable[[], Heard | None]
"""Something that is done on the disk."""

LEAVING_S: Final = 1.0
"""How long it is waited on leaving for what is on its way to the disk."""


class DiskDeeds:
    """Does deeds at once, or, once a hand waits for the screen, beside it."""

    def __init__(self, store: Store) -> None:
        """Take the store that the deeds read and write."""
        self._store = store
        self._hurried = self._leaving = False  # whether a hand waits, and for what
        self.asked: Future[Heard | None] | None = None  # the deed that is not over yet

    def hurry(self) -> None:
        """Wait from here on only for a moment for a deed, which then goes on beside the screen."""
        if not self._hurried:
            self._hurried = True
            with suppress(PieceError):  # what cannot be written will be told of
                self._store.hurry()

    @contextmanager
    def at_leisure(self) -> Iterator[None]:
        """Wait inside as long as one may on leaving."""
        self._leaving = True
        try:
            yield
        finally:
            self._leaving = False

    @property
    def most_s(self) -> float:
        """How long is waited for a deed at present, in seconds."""
        return LEAVING_S if self._leaving else writer.MOMENT_S

    def ask(self, deed: Deed) -> Heard | None:
        """Return what comes of a deed, which is waited for as long as is waited at present.

        Raises StillWriting where that is not long enough; `hear` then tells what came of it.
        """
        if not self._hurried:
            return deed()
        unhurried = partial(_unhurried, self._store, deed)
        self.asked = self._store.writer.ask(unhurried if self._leaving else deed)
        return self.hear(self.most_s)

    def hear(self, most_s: float = 0) -> Heard | None:
        """Return what came of the deed that took long, None where none did.

        Raises StillWriting while it goes on, and else what the deed raised.
        """
        if self.asked is None:
            return None
        try:
            heard = writer.within(self.asked, most_s)
        except StillWriting:
            raise
        except BaseException:
            self.asked = None
            raise
        self.asked = None
        return heard


def _unhurried(store: Store, deed: Deed) -> Heard | None:
    """Do a deed, and wait as long for other programs as if no hand waited."""
    with store.at_leisure():
        return deed()
