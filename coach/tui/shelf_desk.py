"""The list of a shelf on the screen, and the actions on its pieces."""

from collections.abc import Callable
from typing import Any

from textual.app import App
from textual.message import Message

from coach.piece import PieceError, Summary
from coach.recording.record import Recording
from coach.session.ports import Aids, CannotOpen, OnBench, Shelf
from coach.tui import screens
from coach.tui.drawing.cells import UNICODE, Glyphs
from coach.tui.layout.styled_text import Inks
from coach.tui.order_actions import order_choices
from coach.tui.piece_opener import PieceOpener

_NOTHING = "Nothing is changed: "


class ShelfDesk:
    """Shows a shelf on the list screen of an app, and carries out actions on its pieces."""

    def __init__(
        self,
        app: App[Any],
        shelf: Shelf,
        inks: Inks,
        aids: Aids,
        opener: PieceOpener,
        *,
        glyphs: Glyphs = UNICODE,
    ) -> None:
        """Set up the list.

        Args:
            app: Holds the screens.
            shelf: The pieces and projects.
            inks: The styles.
            aids: Settings in use, and the order desk.
            opener: Opens pieces.
            glyphs: The characters.
        """
        self._app = app
        self._shelf = shelf
        self._inks = inks
        self._orders_at = aids.order_desk() if aids.order_desk else None
        self._opener = opener
        self._back: tuple[str, Callable[[], str]] | None = None  # what was deleted last
        pictures = screens.ListPictures(app, inks, glyphs, self._tell)
        self._detail = screens.ListDetail(shelf, aids, pictures)

    def wear(self, inks: Inks) -> None:
        """Use other colours for the list."""
        self._inks = self._detail.pictures.inks = inks
        for screen in self._app.screen_stack:
            if isinstance(screen, screens.ListScreen):
                screen.wear(inks)

    def list_screen(self) -> "screens.ListScreen":
        """Return the screen of the list, still empty; see `offer`."""
        return screens.ListScreen(self._inks, self._detail.described)

    def _tell(self) -> None:
        """Describe the marked entry again: there is more to show."""
        for screen in self._app.screen_stack:
            if isinstance(screen, screens.ListScreen):
                screen.tell()

    def offer(self, told: str = "") -> None:
        """Fill the list with the current shelf, below a message."""
        self._detail.forget()
        for screen in self._app.screen_stack:
            if isinstance(screen, screens.ListScreen):
                try:
                    self._detail.pieces = self._shelf.pieces()
                    orders = self._orders_at.orders() if self._orders_at else ()
                    self._detail.orders = {order.piece_id: order for order in orders}
                    screen.order(self._detail.orders, self._detail.days)
                    screen.offer(
                        self._detail.pieces, self._shelf.projects(), told, self._shelf.away()
                    )
                    self._app.call_later(self._reckon_day)
                except PieceError as error:
                    screen.offer((), (), str(error))

    def _reckon_day(self) -> None:
        """Work out the day of one order after the other, letting keys through between."""
        left = [order for order in self._detail.orders.values() if order not in self._detail.days]
        if not left or self._orders_at is None:
            return
        try:
            self._detail.days[left[0]] = self._orders_at.day(left[0].name)
        except PieceError:
            self._detail.days[left[0]] = ""
        for screen in self._app.screen_stack:
            if isinstance(screen, screens.ListScreen):
                screen.order(self._detail.orders, self._detail.days)
                screen.fill()
        self._app.call_later(self._reckon_day)

    def show_picture(self, marked: Message) -> None:
        """Show the picture of the marked entry, where other colours can be tried."""
        try:
            found = self._detail.standing(marked)
        except (CannotOpen, PieceError) as error:
            self.offer(str(error))
            return
        if found:
            self._opener.show_piece(found)

    def begin_freehand(self, record: Recording) -> OnBench:
        """Begin a piece without a pattern. Raises CannotOpen, PieceError."""
        return self._shelf.begin_freehand(record)

    def open_piece(self, piece_id: int) -> None:
        """Open a piece on the bench."""
        self._opener.open(lambda: self._shelf.open(piece_id))

    def show_plan(self, key: str) -> None:
        """Show a project's plan, on which enter begins a piece."""
        try:
            wishing = self._shelf.fitting(key)
        except (CannotOpen, PieceError) as error:
            self.offer(str(error))
            return
        self._opener.fit(key, wishing, lambda wish, plan: self._shelf.begin(key, wish, plan=plan))

    def ask_of(self, piece_id: int) -> None:
        """Ask what to do with a piece; 0 asks only what can be restored."""
        piece = next((one for one in self._detail.pieces if one.id == piece_id), None)
        choices = self._choices_of(piece_id, piece)
        if self._back:
            name, bring = self._back
            choices.append(
                screens.FormField(f"bring {name} back", "press enter", self._bring(bring))
            )
        if not choices:
            self.offer("Mark a piece first: what can be done to it is asked here.")
            return
        order = self._detail.orders.get(piece_id)
        title = (
            order.name if order else piece.name if piece else "Deleted" if self._back else "More"
        )
        self._app.push_screen(screens.AskScreen(self._inks, title, choices), self._told)

    def _choices_of(self, piece_id: int, piece: Summary | None) -> "list[screens.FormField]":
        order = self._detail.orders.get(piece_id)
        if order and self._orders_at:
            return order_choices(self._orders_at, order, self._open_desk)
        choices = self._choices(piece) if piece else []
        if self._orders_at:
            choices.append(
                screens.FormField("order desk", "press enter", lambda _: self._open_desk())
            )
        return choices

    def _open_desk(self) -> str:
        self._app.call_later(self._opener.of_order, "desk")
        return ""

    def _told(self, said: str | None) -> None:
        if said:
            self.offer(said)

    def _choices(self, piece: Summary) -> "list[screens.FormField]":
        away = piece.id in self._shelf.away()
        put = "take it out again" if away else "put it away"
        return [
            screens.FormField("call it", piece.name, self._kept_as(piece)),
            screens.FormField("make another", "press enter", lambda _: self._another(piece)),
            screens.FormField(put, "press enter", lambda _: self._put_away(piece, away=not away)),
            screens.FormField("delete it", "write: delete", lambda text: self._delete(piece, text)),
        ]

    def _kept_as(self, piece: Summary) -> Callable[[str], str]:
        def rename(name: str) -> str:
            if not name:
                return f"{_NOTHING}write the new name."
            return self._tried(lambda: f"Now called {self._shelf.rename(piece.id, name)}.")

        return rename

    def _another(self, piece: Summary) -> str:
        self._app.call_later(self._opener.open, lambda: self._shelf.again(piece.id))
        return f"Another {piece.title or piece.name}."

    def _put_away(self, piece: Summary, *, away: bool) -> str:
        def put() -> str:
            self._shelf.put_away(piece.id, away=away)
            return f"{piece.name} is {'put away' if away else 'out again'}."

        return self._tried(put)

    def _delete(self, piece: Summary, text: str) -> str:
        if text.casefold() != "delete":
            return f"{_NOTHING}write the word delete, to be sure."

        def delete() -> str:
            self._back = piece.name, self._shelf.delete(piece.id)
            return f"{piece.name} is deleted. Until you leave, / brings it back."

        return self._tried(delete)

    def _bring(self, bring: Callable[[], str]) -> Callable[[str], str]:
        def back(_: str) -> str:
            told = self._tried(bring)
            self._back = None if not told.startswith(_NOTHING) else self._back
            return told

        return back

    def _tried(self, deed: Callable[[], str]) -> str:
        try:
            return deed()
        except (CannotOpen, PieceError) as error:
            return f"{_NOTHING}{error}"
