"""The plain words about other pieces: begin another, put one away, go on with an order."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

from coach.piece import PieceError
from coach.session.controller import Work
from coach.session.ports import CannotOpen, FinishedPieceActions
from coach.text import one_line

_NO_ORDER: Final = "This piece belongs to no order."
_UNFINISHED: Final = "This piece is not finished yet."
MOUSE: Final = "These are plain lines: the mouse is your terminal's, and copies as it always does."

FREEHAND: Final = "Leave, and open the piece on the bench: there a key goes on without the pattern."


@dataclass(frozen=True, slots=True)
class Endings:
    """Handles the words about other pieces; the walk stays with its own.

    Attributes:
        work: Return the current piece.
        ending: Return what can be done with it once it is finished, if anything can.
    """

    work: Callable[[], Work]
    ending: Callable[[], FinishedPieceActions | None] = lambda: None

    def by_word(self) -> dict[str, Callable[[str], list[str]]]:
        """Return the handler of each word."""
        deeds = {
            "pieces": self._next_piece, "way": self._turn, "another": self._another,
            "put": self._put_away,
        }  # fmt: skip
        return {word: lambda _, deed=deed: [_tried(deed)] for word, deed in deeds.items()}  # type: ignore[misc]  # each word keeps its own deed

    def _next_piece(self) -> str:
        """Say how far the order is, and how its next piece is opened."""
        batch = self.work().batch
        if batch is None:
            return _NO_ORDER
        return f"{batch.told()} Leave, and open an order again for its next piece."

    def _turn(self) -> str:
        batch = self.work().batch
        return batch.turn() if batch else _NO_ORDER

    def _another(self) -> str:
        ending = self.ending()
        if not (ending and self._finished):
            return _UNFINISHED
        sitting = ending.again().sitting
        sitting.leave()
        return f"{one_line(sitting.name)} is begun. Leave, and open it by this name."

    def _put_away(self) -> str:
        ending = self.ending()
        if not (ending and self._finished):
            return _UNFINISHED
        ending.put_away()
        return "Put away: it is folded up on the list."

    @property
    def _finished(self) -> bool:
        return self.work().done >= self.work().plan.total


def _tried(deed: Callable[[], str]) -> str:
    try:
        return deed()
    except (CannotOpen, PieceError) as error:
        return str(error)
