"""Actions on the order of the current piece, and opening the order desk."""

from collections.abc import Callable
from typing import Any, Final

from textual.app import App

from coach.piece import Clock, PieceError
from coach.session.controller import BenchController
from coach.session.current_order.piece_switching import NOT_STORED, CameOver, switch_message
from coach.session.ports import Aids, Batch, CannotOpen, OnBench
from coach.session.view_model import OrderDesk, OrderLine
from coach.tui import screens
from coach.tui.layout.styled_text import Inks
from coach.tui.order_desk.desk_screen import DeskScreen
from coach.tui.screens.work_screen import WorkScreen

_NO_ORDER: Final = "This piece belongs to no order."


class OrderActions:
    """A mixin of the piece opener for actions on orders."""

    inks: Inks
    _app: App[Any]
    _aids: Aids
    _batch: Batch | None
    _clock: Clock
    _tell: Callable[[str], None]

    def _begin(self, opened: OnBench, came: CameOver | None = None) -> None:
        raise NotImplementedError

    def of_order(self, what: str, project: str = "") -> None:
        """Carry out an action on the current order; see `AskedOfOrder`."""
        if what == "desk":
            self._open_desk(project)
        elif what == "next":
            self._next_of_order()
        elif what in ("step", "back"):
            self._go_over(back=what == "back")
        else:
            self._turn_order()

    def _open_desk(self, project: str) -> None:
        """Open the order desk over the current screen."""
        make = self._aids.order_desk
        if make is None:
            self._say("There is no order desk here.")
        else:
            desk = DeskScreen(self.inks, make(), project)
            self._app.push_screen(desk, lambda _: self._tell(""))

    def _say(self, told: str) -> None:
        screen = self._app.screen
        if isinstance(screen, WorkScreen):
            screen.tell(told)
        else:
            self._tell(told)

    def _next_of_order(self) -> None:
        """Change to the next piece of the order.

        A piece with counts that are not stored stays.
        """
        screen = self._app.screen
        if not isinstance(screen, WorkScreen):
            return
        opened = self._next_of(screen.work)
        if isinstance(opened, str):
            screen.tell(opened)
            return
        self._take_up(screen, opened)

    def _go_over(self, *, back: bool) -> None:
        """Change to the next piece after a step made over all, or back to the one before.

        A piece with counts that are not stored stays.
        """
        screen = self._app.screen
        if not isinstance(screen, WorkScreen) or self._batch is None:
            return
        sitting, batch = screen.work.sitting, self._batch
        if not (back or batch.over_all):
            return
        if sitting.waiting or sitting.trouble:
            screen.tell(NOT_STORED)
            return
        try:
            before = screen.came.piece_id if screen.came and back else 0
            opened = batch.back_to(before) if before else batch.step_over()
        except (CannotOpen, PieceError) as error:
            screen.tell(str(error))
            return
        if opened:
            now_ms = self._clock.tick_ms()
            self._take_up(
                screen, opened, switch_message(sitting, opened.sitting, now_ms, back=back)
            )

    def _take_up(self, screen: WorkScreen, opened: OnBench, came: CameOver | None = None) -> None:
        """Change to another piece; `came` describes an automatic change."""
        screen.work.leave()
        screen.dismiss(None)
        self._app.call_later(self._begin, opened, came)

    def _next_of(self, work: BenchController) -> OnBench | str:
        """Return the next piece of the order, opened, or why there is none."""
        if self._batch is None:
            return _NO_ORDER
        if work.sitting.waiting or work.sitting.trouble:
            return NOT_STORED
        try:
            opened = self._batch.next_piece()
        except (CannotOpen, PieceError) as error:
            return str(error)
        return opened or "No other piece of this order is left to work on."

    def _turn_order(self) -> None:
        """Change the way of working the order, and say which it is."""
        screen = self._app.screen
        if isinstance(screen, WorkScreen):
            try:
                screen.tell(self._batch.turn() if self._batch else _NO_ORDER)
            except PieceError as error:
                screen.tell(str(error))


def order_choices(
    desk: OrderDesk, order: OrderLine, open_desk: Callable[[], str]
) -> "list[screens.FormField]":
    """Return the actions on an order under way, as rows of a form.

    Args:
        desk: Carries them out.
        order: The order.
        open_desk: Open the order desk; returns a message, "" for none.
    """
    name = order.name

    def spoilt(piece: str) -> str:
        if not piece:
            return "Nothing is changed: write which piece is spoilt, such as: dusk 2."
        whole = piece if piece.casefold().startswith(name.casefold()) else f"{name} {piece}"
        return _tried(lambda: desk.spoil(name, whole))

    def ended(earned: str) -> str:
        return _tried(lambda: desk.end(name, earned))

    def turned(_: str) -> str:
        return _tried(lambda: desk.turn(name))

    return [
        screens.FormField("order desk", "press enter", lambda _: open_desk()),
        screens.FormField("work it the other way", "press enter", turned),
        screens.FormField("a piece is spoilt", "which one: dusk 2", spoilt),
        screens.FormField("split off what is finished", "a name, such as: saturday",
               lambda into: _tried(lambda: desk.split(name, into))),
        screens.FormField("it is done", "what it earned, such as: 60", ended),
    ]  # fmt: skip


def _tried(deed: Callable[[], str]) -> str:
    try:
        return deed()
    except (CannotOpen, PieceError) as error:
        return f"Nothing is changed: {error}"
