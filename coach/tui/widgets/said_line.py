"""The line that sentences are written on."""

from collections.abc import Callable, Sequence

from textual import events

from coach.tui.widgets.text_line import TextLine


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
