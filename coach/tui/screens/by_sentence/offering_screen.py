"""The base of screens with an input line for sentences, offers and speech."""

from typing import ClassVar

from textual import events
from textual.binding import BindingType
from textual.widgets import Input

from coach.session.announcer import SentenceSpeech
from coach.session.ports import Aids
from coach.tui.layout.styled_text import Inks
from coach.tui.pages.freehand_page import Offers
from coach.tui.screens.base_screen import LinesScreen, keyed


class OfferingScreen(LinesScreen[None]):
    """Offers sentences below its lines, puts one on the input line, and speaks."""

    BINDINGS: ClassVar[list[BindingType]] = [
        keyed("tab", "complete", "complete", "Complete the line with a sentence offered."),
        keyed("ctrl+l", "theme", "theme", "Change the colours."),
        keyed("ctrl+y", "hear", "say again", "Hear once more what came of the last sentence."),
        keyed("down", "mark(1)"),
        keyed("up", "mark(-1)"),
    ]

    def __init__(self, inks: Inks, aids: Aids) -> None:
        """Set the styles, and the helpers with the voice."""
        super().__init__(inks)
        self._told = ""
        self._offers = Offers()
        self._speech = SentenceSpeech(aids)

    def say_again(self) -> str:
        """Return what to speak again."""
        return self._told

    def action_complete(self) -> None:
        """Complete the line with the marked sentence, or the first one."""
        if self._offers.nearest:
            self._write(self._offers.nearest)
        self.show()

    def action_mark(self, step: int) -> None:
        """Mark another of the sentences offered."""
        self._offers.mark(step)
        self.show()

    def on_click(self, event: events.Click) -> None:
        """Put the tapped sentence on the line."""
        tapped = self._offers.tapped(event.y, self._sheet.size.height)
        if tapped:
            self._write(tapped)

    def on_mouse_scroll_down(self) -> None:
        """Mark the next of the sentences offered."""
        self.action_mark(1)

    def on_mouse_scroll_up(self) -> None:
        """Mark the one before."""
        self.action_mark(-1)

    def action_theme(self) -> None:
        """Change the colours."""
        self.app.action_theme()  # type: ignore[attr-defined]  # of the bench's app

    def action_mouse(self) -> None:
        """Release the mouse to the terminal, for copying, or capture it again."""
        self._told = self.app.switch_mouse()  # type: ignore[attr-defined]  # of the bench's app

    def action_voice(self) -> None:
        """Switch speech of results on or off."""
        self._told = self._speech.switch()

    def action_hear(self) -> None:
        """Speak the last result again, and the progress of the work."""
        self._speech.say(self.say_again(), anyway=True)

    def _tell(self, told: str) -> None:
        """Show a result, and speak it if that is wanted."""
        self._told = told
        self._speech.say(told)

    def _write(self, text: str) -> None:
        line = self.query_one(Input)
        line.value = text
        line.cursor_position = len(text)
