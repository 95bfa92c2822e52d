"""What the app does when a screen asks for something of the piece on the bench."""

from coach.recording.record import Recording
from coach.tui import screens
from coach.tui.base_app import PaletteApp
from coach.tui.messages import AskedOfOrder, AskedOfPicture
from coach.tui.piece_opener import PieceOpener
from coach.tui.shelf_desk import ShelfDesk


class PieceHandlers(PaletteApp):
    """Handles the messages of screens about pieces; the app of the bench is one."""

    _opener: PieceOpener
    _listed: ShelfDesk | None

    def on_asked_of_picture(self, message: AskedOfPicture) -> None:
        """Show the whole of what is marked on the list."""
        if self._listed:
            self._listed.show_picture(message.entry)

    def on_wants_another(self) -> None:
        """Begin another piece of the project of the one that is finished."""
        self._opener.another()

    def on_asked_of_order(self, message: AskedOfOrder) -> None:
        """Take its next piece to the bench, work it the other way, or open the order desk."""
        self._opener.of_order(message.what, message.project)

    def on_put_away(self) -> None:
        """Put the finished piece away."""
        self._opener.put_away()

    def on_leaves_pattern(self) -> None:
        """Let the piece on the bench go on without its pattern."""
        self._opener.without_pattern()

    def on_starts_freehand(self) -> None:
        """Ask what hangs, and begin a piece without a pattern."""
        desk = self._listed

        def hung(record: Recording | None) -> None:
            if record and desk:
                self._opener.open(lambda: desk.begin_freehand(record))

        self.push_screen(screens.HangingScreen(self._opener.inks), hung)
