"""What is done to the order of the piece on the bench, and the way to the order desk."""

from collections.abc import Callable
from typing import Any, Final

from textual.app import App

from coach.piece import PieceError
from coach.session.controller import Work
from coach.session.ports import Aids, Batch, CannotOpen, OnBench
from coach.tui.layout.styled_text import Inks
from coach.tui.order_desk.desk_screen import DeskScreen
from coach.tui.screens.work_screen import WorkScreen

_NO_ORDER: Final = "This piece belongs to no order."


class OrderDeeds:
    """Does what is asked of orders; mixed into what opens pieces."""

    inks: Inks
    _app: App[Any]
    _aids: Aids
    _batch: Batch | None
    _tell: Callable[[str], None]

    def _begin(self, opened: OnBench) -> None:
        raise NotImplementedError

    def of_order(self, what: str, project: str = "") -> None:
        """Do what is asked of the order at hand; see `AskedOfOrder`."""
        if what == "desk":
            self._open_desk(project)
        elif what == "next":
            self._next_of_order()
        else:
            self._turn_order()

    def _open_desk(self, project: str) -> None:
        """Open the order desk over what is shown."""
        desk = self._aids.order_desk
        if desk is None:
            self._say("There is no order desk here.")
        else:
            self._app.push_screen(DeskScreen(self.inks, desk, project), lambda _: self._tell(""))

    def _say(self, told: str) -> None:
        screen = self._app.screen
        if isinstance(screen, WorkScreen):
            screen.tell(told)
        else:
            self._tell(told)

    def _next_of_order(self) -> None:
        """Leave the piece on the bench for the next one of its order.

        One whose counts are not all stored stays.
        """
        screen = self._app.screen
        if not isinstance(screen, WorkScreen):
            return
        opened = self._next_of(screen.work)
        if isinstance(opened, str):
            screen.tell(opened)
            return
        screen.work.leave()
        screen.dismiss(None)
        self._app.call_later(self._begin, opened)

    def _next_of(self, work: Work) -> OnBench | str:
        """Return the next piece of the order, opened, or why there is none."""
        if self._batch is None:
            return _NO_ORDER
        if work.sitting.waiting or work.sitting.trouble:
            return "Counts are not stored yet, so this piece stays on the bench."
        try:
            opened = self._batch.next_piece()
        except (CannotOpen, PieceError) as error:
            return str(error)
        return opened or "No other piece of this order is left to work on."

    def _turn_order(self) -> None:
        """Work the order the other way, and say which that is."""
        screen = self._app.screen
        if isinstance(screen, WorkScreen):
            try:
                screen.tell(self._batch.turn() if self._batch else _NO_ORDER)
            except PieceError as error:
                screen.tell(str(error))
