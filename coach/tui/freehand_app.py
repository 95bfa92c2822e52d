"""The app for knotting without a pattern: it asks what hangs, then shows the piece."""

from collections.abc import Callable
from typing import Any

from coach.recording.record import Recording
from coach.session.ports import OnBench
from coach.tui import screens
from coach.tui.app import BenchApp


class FreehandApp(BenchApp):
    """Asks what hangs first; its result is an exit status."""

    def __init__(self, begin: Callable[[Recording], OnBench], called: str, **looks: Any) -> None:
        """Set the function that begins the piece, and its default title.

        For looks see BenchApp. `begin` may raise PieceError.
        """
        super().__init__(**looks)
        self._begin = begin
        self._called = called

    async def on_mount(self) -> None:
        """Ask what hangs; Textual also calls the handler of the base class."""

        def hung(record: Recording | None) -> None:
            if record is None:
                self.exit(0)
            else:
                self._opener.open(lambda: self._begin(record))

        self.push_screen(screens.HangingScreen(self._opener.inks, self._called), hung)


def run_freehand(begin: Callable[[Recording], OnBench], called: str, **looks: Any) -> int:
    """Ask what hangs, open the piece that begins so, and return the exit status."""
    return FreehandApp(begin, called, **looks).outcome()
