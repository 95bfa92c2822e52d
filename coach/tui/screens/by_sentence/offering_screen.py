"""A screen to write sentences on, with some offered: by keys, by taps, and aloud."""

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
    """Offers sentences below its lines, puts one on the line that is written on, and speaks."""

    BINDINGS: ClassVar[list[BindingType]] = [
        keyed("tab", "complete", "complete", "Complete the line with a sentence offered."),
        keyed("ctrl+l", "theme", "theme", "Change the colours."),
        keyed("ctrl+y", "hear", "say again", "Hear once more what came of the last sentence."),
        keyed("down", "mark(1)"),
        keyed("up", "mark(-1)"),
    ]

    def __init__(self, inks: Inks, aids: Aids) -> None:
        """Take what is written with, and what speaks."""
        super().__init__(inks)
        self._told = ""
        self._offers = Offers()
        self._speech = SentenceSpeech(aids)

    def say_again(self) -> str:
        """Return what is to be heard once more."""
        return self._told

    def action_complete(self) -> None:
        """Complete the line with the sentence that is marked, or the first one."""
        if self._offers.nearest:
            self._write(self._offers.nearest)
        self.show()

    def action_mark(self, step: int) -> None:
        """Mark another of the sentences offered."""
        self._offers.mark(step)
        self.show()

    def on_click(self, event: events.Click) -> None:
        """Put the sentence that is tapped on the line."""
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
        """Give the mouse back to the terminal, for copying, or take it again."""
        self._told = self.app.switch_mouse()  # type: ignore[attr-defined]  # of the bench's app

    def action_voice(self) -> None:
        """Speak what comes of each sentence, or be silent."""
        self._told = self._speech.switch()

    def action_hear(self) -> None:
        """Say once more what came of the last sentence, and how far the work is."""
        self._speech.say(self.say_again(), anyway=True)

    def _tell(self, told: str) -> None:
        """Say what came of it, also aloud if that is wanted."""
        self._told = told
        self._speech.say(told)

    def _write(self, text: str) -> None:
        line = self.query_one(Input)
        line.value = text
        line.cursor_position = len(text)
