"""Going from piece to piece of an order, on the work screen."""

from collections.abc import Callable
from typing import Any, Final, Protocol

from textual.app import App

from coach.piece import PieceError
from coach.session.controller import Work
from coach.session.counting import Ring
from coach.session.ports import Batch, CannotOpen, OnBench
from coach.tui.messages import ChosenPiece

_NONE: Final = "This piece belongs to no order."


class AtWork(Protocol):
    """What is asked of the work screen."""

    @property
    def work(self) -> Work:
        """The controller of the piece."""

    def show(self) -> None:
        """Repaint what has changed."""

    @property
    def app(self) -> App[Any]:
        """The app that opens pieces."""

    def dismiss(self, result: None) -> object:
        """Close the screen."""


class OrderTurns:
    """What the keys of an order do; without one they say so."""

    def __init__(self, batch: Batch | None = None) -> None:
        """Take the order that the piece belongs to."""
        self._batch = batch

    def deeds(self, screen: AtWork) -> dict[str, Callable[[], None]]:
        """Return what is done for each action that is about an order, by the action's id."""
        return {"next_piece": lambda: self._go_on(screen), "batch": lambda: self._turn(screen)}

    def told_next(self, work: Work, ring: Ring) -> Ring:
        """Say, where one step is worked over all pieces or this one is finished, which key goes on.

        What was said of the key at hand stays. Return the ring as it came.
        """
        finished = work.sitting.state.finished
        if self._batch and ring and not work.message and (finished or self._over_all()):
            made = "This piece is finished" if finished else "This step is made here"
            work.message = f"{made}. {work.keys.shown('next_piece')} goes to the next piece."
        return ring

    def _over_all(self) -> bool:
        try:
            return bool(self._batch and self._batch.over_all)
        except PieceError:
            return False

    def _go_on(self, screen: AtWork) -> None:
        """Leave this piece for the next one of its order; one that is not all stored stays."""
        opened = self._next(screen.work)
        if isinstance(opened, str):
            screen.work.message, screen.work.unspoken = opened, ""
            screen.show()
            return
        screen.work.leave()
        screen.app.post_message(ChosenPiece(lambda _: opened))
        screen.dismiss(None)

    def _next(self, work: Work) -> OnBench | str:
        """Return the next piece, opened, or why there is none."""
        if self._batch is None:
            return _NONE
        if work.sitting.waiting or work.sitting.trouble:
            return "Counts are not stored yet, so this piece stays on the bench."
        try:
            opened = self._batch.next_piece()
        except (CannotOpen, PieceError) as error:
            return str(error)
        return opened or "No other piece of this order is left to work on."

    def _turn(self, screen: AtWork) -> None:
        """Change between one step over all pieces and one piece after the other."""
        try:
            said = self._batch.turn() if self._batch else _NONE
        except PieceError as error:
            said = str(error)
        screen.work.message, screen.work.unspoken = said, ""
        screen.show()


ALONE: Final = OrderTurns()
"""The keys of a piece that belongs to no order."""
