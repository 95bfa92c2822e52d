"""The sounds of a piece at work: speech, and the terminal's bell."""

from typing import Any, Final

from textual.screen import Screen

from coach.session.announcer import Spoken
from coach.session.controller import BenchController
from coach.session.counting import Ring
from coach.session.view_model import View

_SECOND_RING_S: Final = 0.25


class Sounds:
    """Speaks and rings for one piece, as the settings say; never waits."""

    def __init__(self, screen: Screen[Any], work: BenchController) -> None:
        """Set the screen whose app rings, and the piece."""
        self._screen = screen
        self._work = work
        self._spoken = Spoken(work.plan, work.settings.speech_every)

    @property
    def speaks(self) -> bool:
        """Whether the maker wants steps spoken."""
        return bool(self._work.aids.voice and self._work.settings.speech)

    def speak(self, view: View, first: str = "") -> None:
        """Speak `first`, and what is new if the maker wants it spoken."""
        voice = self._work.aids.voice
        if voice and self.speaks:
            voice.say(f"{first}. {self._spoken.words(view)}" if first else self._spoken.words(view))

    def say_again(self, view: View) -> None:
        """Speak the current step once more."""
        voice = self._work.aids.voice
        if voice:
            voice.say(self._spoken.again(view))

    def ring(self, ring: Ring) -> None:
        """Sound the bell once at the end of a step and twice at the end of a repeat."""
        settings = self._work.settings
        if not (settings.bell_repeat if ring == "repeat" else settings.bell_step and ring):
            return
        self._screen.app.bell()
        if ring == "repeat":
            self._screen.set_timer(_SECOND_RING_S, self._screen.app.bell)
