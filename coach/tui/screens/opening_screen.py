"""What is seen first of a piece: its name and how far it is, while the rest of it is read."""

from collections.abc import Callable
from typing import ClassVar, Final

from rich.text import Text
from textual.timer import Timer

from coach.piece import Summary
from coach.session.time_format import local, when
from coach.tui.drawing.cells import Glyphs
from coach.tui.layout.progress_bar import bar
from coach.tui.layout.styled_text import Inks
from coach.tui.screens.base_screen import LinesScreen, at_both_ends

_SHOWN_S: Final = 0.001  # by then the library writes it to the terminal


class OpeningScreen(LinesScreen[None]):
    """Shows a piece's line in the list as the bench shows it, then lets the piece be opened."""

    HOLDS_KEYS: ClassVar[bool] = True

    def __init__(
        self, piece: Summary, inks: Inks, glyphs: Glyphs, then: Callable[[], object]
    ) -> None:
        super().__init__(inks)
        self._piece = piece
        self._glyphs = glyphs
        self._then = then
        self._shown: Timer | None = None

    def pressed(self, key: str) -> bool:
        """Take no key: the bench is there before a finger is."""
        del key
        return False

    def lines(self, width: int, height: int) -> list[Text]:
        """Return the name, when the piece was left, and the bar for the whole."""
        del height
        self._shown = self._shown or self.set_timer(_SHOWN_S, self._then)
        piece, quiet = self._piece, self.inks.style("quiet")
        moment = local(piece.touched_ms)
        name = Text(piece.name, self.inks.style("text", bold=True))
        return [
            at_both_ends(name, Text(f"left {when(moment)}", quiet), width),
            bar(self.inks, self._glyphs, piece.done, piece.total, width),
        ]
