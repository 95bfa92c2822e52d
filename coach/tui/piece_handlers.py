"""The app and the current piece: messages about it, and leaving it when the screen closes."""

import sys
from contextlib import suppress

from coach.recording.record import Recording
from coach.session import unsaved_counts
from coach.session.by_sentence.freehand import Freehand
from coach.session.controller import BenchController
from coach.text import one_line
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


class ExitSummary:
    """Puts the current piece aside when the app ends, and reports the result."""

    def __init__(self) -> None:
        self._said = ""

    def put_aside(self, work: BenchController | None) -> None:
        """End the sitting, and write what could not be stored to the first place that works."""
        if work:
            work.leave()
            if unsaved_counts.must_ask_before_leaving(work.sitting):
                path = unsaved_counts.rescue(work.sitting)
                self._said = unsaved_counts.written_message(path) if path else ""

    def say(self, work: BenchController | None, freehand: Freehand | None = None) -> None:
        """Report on standard error what became of the piece, if there was one.

        Args:
            work: The current piece.
            freehand: One that goes on without a pattern instead.
        """
        if work and not self._said and not work.sitting.trouble:
            self._said = unsaved_counts.saved_message(work.sitting)
        elif freehand and not self._said and not freehand.sitting.trouble:
            self._said = f"{freehand.name}: {freehand.made} made. Everything is saved."
        if self._said:
            with suppress(OSError):  # the terminal may be gone
                sys.stderr.write(f"coach: {one_line(self._said)}\n")
