"""Which piece of an order comes next, and how far an order is."""

from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class PieceAt:
    """A sound piece of an order, by its own id, and how far it is.

    `step` is the step at hand, where pieces have unlike numbers of counts; else -1, and the counts
    themselves tell which piece is least far.
    """

    piece: str
    done: int
    total: int
    step: int = -1

    @property
    def far(self) -> tuple[int, int]:
        """How far it is among the pieces of its order."""
        return (self.step, 0) if self.step >= 0 else (0, self.done)

    @property
    def finished(self) -> bool:
        """Whether all of its counts are made."""
        return self.done >= self.total


def next_piece(pieces: Sequence[PieceAt], current: str, *, over_all: bool) -> str | None:
    """Return the piece that is worked after the one at hand, None where all are finished.

    Args:
        pieces: The order's pieces, in the order in which they were begun.
        current: The piece at hand, "" for none.
        over_all: Whether one step is worked over all pieces: then the one comes next that is
            least far, those after the one at hand first; else the one at hand until it is
            finished, and then the next that is not.
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
    """Return the piece that the maker turns to when she asks for another one than that at hand.

    Args:
        pieces: The pieces of the order, in the order in which they are worked.
        current: The id of the piece at hand.
        over_all: Whether a step is worked over all of them.
    """
    return next_piece(others_after(pieces, current), "", over_all=over_all)


def others_after(pieces: Sequence[PieceAt], current: str) -> list[PieceAt]:
    """Return the other pieces, those after the one at hand first."""
    at = next((n for n, piece in enumerate(pieces) if piece.piece == current), -1)
    return [piece for piece in (*pieces[at + 1 :], *pieces[:at]) if piece.piece != current]
