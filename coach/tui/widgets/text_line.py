"""A line to write on."""

from collections.abc import Callable, Sequence

from textual import events
from textual.message import Message
from textual.widgets import Input

from coach.text import clean, one_line


class TextLine(Input):
    """One line of text; it lets nothing in that acts on a terminal, as a pasted text may."""

    class Shortened(Message):
        """What was pasted is longer than the line may be, and its end is left out."""

    def __init__(self, most: int) -> None:
        """Take how many characters there may be at most."""
        super().__init__(max_length=most, select_on_focus=False, compact=True)
        self._most = most

    def validate_value(self, value: str) -> str:
        """Return a value cleaned of what is no text; the library calls this for every change."""
        return clean(value)

    def _on_paste(self, event: events.Paste) -> None:
        """Take pasted text as one line, as far as there is room; the library would take nothing."""
        event.stop()
        event.prevent_default()
        text = one_line(event.text)
        first, last = sorted(self.selection)
        room = self._most - len(self.value) + last - first
        self.replace(text[:room], first, last)
        if len(text) > room:
            self.post_message(self.Shortened())

    async def _on_key(self, event: events.Key) -> None:
        """Take a line feed for enter: so it comes when a line is typed ahead of the screen."""
        if event.key == "ctrl+j":
            event.stop()
            event.prevent_default()
            await self.action_submit()


class SaidLine(TextLine):
    """The line that sentences are written on; several lines pasted are said in turn."""

    def __init__(self, most: int, say_all: Callable[[Sequence[str]], None]) -> None:
        """Take how many letters a sentence may have, and what is done with several."""
        super().__init__(most)
        self._say_all = say_all

    def _on_paste(self, event: events.Paste) -> None:
        """Say several lines in turn; one is pasted by the line, whose handler comes next."""
        lines = [line for line in event.text.splitlines() if line.strip()]
        if len(lines) > 1:
            event.stop()
            event.prevent_default()
            self._say_all(lines)

    async def _on_key(self, event: events.Key) -> None:
        """Leave a slash on the empty line to the screen."""
        if event.key == "slash" and not self.value:
            event.prevent_default()
