"""Changing to the next piece of an order in plain mode, when a step is worked over all of them."""

from collections.abc import Callable

from coach.piece import PieceError
from coach.session.controller import Work
from coach.session.order_at_hand.going_over import COUNTED, SOON_MS, TOO_SOON, came_over, step_made
from coach.session.ports import CannotOpen, OnBench


class GoingOver:
    """Changes to another piece of the order, if it was given a way to open one."""

    def __init__(self, take_up: Callable[[OnBench], Work] | None = None) -> None:
        """Take the function that starts work on an opened piece."""
        self._take_up = take_up
        self._came = 0  # the number of the piece from which it was gone over to the one at hand
        self._came_ms = 0

    def too_soon(self, work: Work, action: str) -> list[str]:
        """Return the answer to a line meant for the piece before; none for piped input."""
        if not self._came or action not in COUNTED or not work.settings.bounce_ms:
            return []
        return [TOO_SOON] if work.presses.tick_ms(None) - self._came_ms < SOON_MS else []

    def back(self, work: Work) -> tuple[Work, list[str]] | None:
        """Return to the piece before if nothing was counted since; with lines to show."""
        came, self._came = self._came, 0
        batch = work.batch
        if not (came and batch):
            return None
        return self._taken(work, lambda: batch.back_to(came), back=True)

    def after(self, work: Work, before: int) -> tuple[Work, list[str]] | None:
        """Change to the next piece if counting from `before` on has finished a step over all."""
        self._came = 0
        batch = work.batch
        if not (batch and batch.over_all and step_made(work.plan, before, work.done)):
            return None
        return self._taken(work, batch.step_over)

    def _taken(
        self, work: Work, opening: Callable[[], OnBench | None], *, back: bool = False
    ) -> tuple[Work, list[str]] | None:
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
        told = came_over(before, opened.sitting, 0, back=back).told(opened.sitting.name, "-")
        return self._take_up(opened), [told]
