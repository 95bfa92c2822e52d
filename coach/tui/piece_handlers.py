"""The app's handlers of messages about the current piece."""

from coach.recording.record import Recording
from coach.tui import screens
from coach.tui.base_app import PaletteApp
from coach.tui.messages import AskedOfOrder, AskedOfPicture
from coach.tui.piece_opener import PieceOpener
from coach.tui.shelf_desk import ShelfDesk


class PieceHandlers(PaletteApp):
    """The base of the bench's app: handlers of screens' messages about pieces."""

    _opener: PieceOpener
    _listed: ShelfDesk | None

    def on_asked_of_picture(self, message: AskedOfPicture) -> None:
        """Show the picture of the marked entry of the list."""
        if self._listed:
            self._listed.show_picture(message.entry)

    def on_wants_another(self) -> None:
        """Begin another piece of the finished one's project."""
        self._opener.another()

    def on_asked_of_order(self, message: AskedOfOrder) -> None:
        """Carry out an action on the order."""
        self._opener.of_order(message.what, message.project)

    def on_put_away(self) -> None:
        """Put the finished piece away."""
        self._opener.put_away()

    def on_leaves_pattern(self) -> None:
        """Let the current piece go on without its pattern."""
        self._opener.without_pattern()

    def on_starts_freehand(self) -> None:
        """Ask what hangs, and begin a piece without a pattern."""
        desk = self._listed

        def hung(record: Recording | None) -> None:
            if record and desk:
                self._opener.open(lambda: desk.begin_freehand(record))

        self.push_screen(screens.HangingScreen(self._opener.inks), hung)
