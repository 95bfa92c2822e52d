"""The plain words about other pieces: begin another, put one away, go on with an order."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

from coach.piece import PieceError
from coach.session.controller import BenchController
from coach.session.current_order.piece_switching import (
    COUNTED,
    SOON_MS,
    TOO_SOON,
    step_made,
    switch_message,
)
from coach.session.ports import CannotOpen, FinishedPieceActions, OnBench
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

    work: Callable[[], BenchController]
    ending: Callable[[], FinishedPieceActions | None] = lambda: None

    def by_word(self) -> dict[str, Callable[[str], list[str]]]:
        """Return the handler of each word."""
        deeds = {
            "pieces": self._next_piece, "way": self._turn, "another": self._another,
            "put": self._put_away,
        }  # fmt: skip
        return {word: lambda _, deed=deed: [_tried(deed)] for word, deed in deeds.items()}  # type: ignore[misc]  # each word keeps its own deed

    def _next_piece(self) -> str:
        """Return how far the order is, and how its next piece is opened."""
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


class GoingOver:
    """Changes to another piece of the order, if it was given a way to open one."""

    def __init__(self, take_up: Callable[[OnBench], BenchController] | None = None) -> None:
        """Take the function that starts work on an opened piece."""
        self._take_up = take_up
        self._came = 0  # the number of the piece from which it was gone over to the one at hand
        self._came_ms = 0

    def too_soon(self, work: BenchController, action: str) -> list[str]:
        """Return the answer to a line meant for the piece before; none for piped input."""
        if not self._came or action not in COUNTED or not work.settings.bounce_ms:
            return []
        return [TOO_SOON] if work.presses.tick_ms(None) - self._came_ms < SOON_MS else []

    def back(self, work: BenchController) -> tuple[BenchController, list[str]] | None:
        """Return to the piece before if nothing was counted since; with lines to show."""
        came, self._came = self._came, 0
        batch = work.batch
        if not (came and batch):
            return None
        return self._taken(work, lambda: batch.back_to(came), back=True)

    def after(self, work: BenchController, before: int) -> tuple[BenchController, list[str]] | None:
        """Change to the next piece if counting from `before` on has finished a step over all."""
        self._came = 0
        batch = work.batch
        if not (batch and batch.over_all and step_made(work.plan, before, work.done)):
            return None
        return self._taken(work, batch.step_over)

    def _taken(
        self, work: BenchController, opening: Callable[[], OnBench | None], *, back: bool = False
    ) -> tuple[BenchController, list[str]] | None:
        before = work.sitting
        if self._take_up is None or before.waiting or before.trouble:
            return None
        try:
            opened = opening()
        except (CannotOpen, PieceError) as error:
            return work, [str(error)]
        if opened is None:
            return None
        work.leave()
        self._came, self._came_ms = 0 if back else before.piece_id, work.presses.tick_ms(None)
        told = switch_message(before, opened.sitting, 0, back=back).told(opened.sitting.name, "-")
        return self._take_up(opened), [told]
