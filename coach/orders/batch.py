"""The next piece of an order, and the order's progress."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

MOST_COPIES: Final = 1000
"""Copies that an order can have."""


@dataclass(frozen=True, slots=True)
class PieceAt:
    """A sound piece of an order, by its own id, and its progress.

    `step` is the current step, where pieces have different numbers of counts; else -1, and the
    counts tell which piece is furthest behind.
    """

    piece: str
    done: int
    total: int
    step: int = -1

    @property
    def far(self) -> tuple[int, int]:
        """Its progress, to compare with other pieces of its order."""
        return (self.step, 0) if self.step >= 0 else (0, self.done)

    @property
    def finished(self) -> bool:
        """Whether all of its counts are made."""
        return self.done >= self.total


def next_piece(pieces: Sequence[PieceAt], current: str, *, over_all: bool) -> str | None:
    """Return the piece to work after the current one, None when all are finished.

    Args:
        pieces: The order's pieces, in the order in which they were begun.
        current: The current piece, "" for none.
        over_all: Whether one step is worked over all pieces: then the next is the one furthest
            behind, looking first at those after the current one; otherwise the current one until it
            is finished, and then the next unfinished.
    """
    left = [piece for piece in pieces if not piece.finished]
    if not left:
        return None
    at = next((n for n, piece in enumerate(pieces) if piece.piece == current), -1)
    ahead = [piece for piece in (*pieces[at + 1 :], *pieces[: at + 1]) if not piece.finished]
    if over_all:
        return min(ahead, key=lambda piece: piece.far).piece
    return current if any(piece.piece == current for piece in left) else ahead[0].piece


def following(pieces: Sequence[PieceAt], current: str, *, over_all: bool) -> str | None:
    """Return the piece to change to when the maker asks for another one.

    Args:
        pieces: The pieces of the order, in the order in which they are worked.
        current: The id of the current piece.
        over_all: Whether a step is worked over all of them.
    """
    return next_piece(others_after(pieces, current), "", over_all=over_all)


def others_after(pieces: Sequence[PieceAt], current: str) -> list[PieceAt]:
    """Return the other pieces, beginning after the current one and wrapping round."""
    at = next((n for n, piece in enumerate(pieces) if piece.piece == current), -1)
    return [piece for piece in (*pieces[at + 1 :], *pieces[:at]) if piece.piece != current]
