"""An input line that keeps control characters out."""

from collections.abc import Callable, Sequence

from textual import events
from textual.message import Message
from textual.widgets import Input

from coach.text import clean, one_line


class TextLine(Input):
    """One line of input without control characters, which a paste may contain."""

    class Shortened(Message):
        """Pasted text was longer than the line may be, and its end is cut off."""

    def __init__(self, most: int) -> None:
        """Set the greatest length."""
        super().__init__(max_length=most, select_on_focus=False, compact=True)
        self._most = most

    def validate_value(self, value: str) -> str:
        """Return a value cleaned of control characters; called for every change."""
        return clean(value)

    def _on_paste(self, event: events.Paste) -> None:
        """Paste text as one line, as far as it fits; Textual would paste nothing."""
        event.stop()
        event.prevent_default()
        text = one_line(event.text)
        first, last = sorted(self.selection)
        room = self._most - len(self.value) + last - first
        self.replace(text[:room], first, last)
        if len(text) > room:
            self.post_message(self.Shortened())

    async def _on_key(self, event: events.Key) -> None:
        """Take a line feed for enter, as sent when a line is typed ahead of the screen."""
        if event.key == "ctrl+j":
            event.stop()
            event.prevent_default()
            await self.action_submit()


class SaidLine(TextLine):
    """The input line for sentences; several pasted lines are said in turn."""

    def __init__(self, most: int, say_all: Callable[[Sequence[str]], None]) -> None:
        """Set the greatest length of a sentence, and what is done with several."""
        super().__init__(most)
        self._say_all = say_all

    def _on_paste(self, event: events.Paste) -> None:
        """Say several lines in turn; a single one is left to the base class."""
        lines = [line for line in event.text.splitlines() if line.strip()]
        if len(lines) > 1:
            event.stop()
            event.prevent_default()
            self._say_all(lines)

    async def _on_key(self, event: events.Key) -> None:
        """Leave a slash on the empty line to the screen."""
        if event.key == "slash" and not self.value:
            event.prevent_default()
