"""A line to write on."""

from textual import events
from textual.widgets import Input

from coach.text import clean


class TextLine(Input):
    """One line of text; it lets nothing in that acts on a terminal, as a pasted text may."""

    def __init__(self, most: int) -> None:
        """Take how many characters there may be at most."""
        super().__init__(max_length=most, select_on_focus=False, compact=True)

    def validate_value(self, value: str) -> str:
        """Return a value cleaned of what is no text; the library calls this for every change."""
        return clean(value)

    async def _on_key(self, event: events.Key) -> None:
        """Take a line feed for enter: so it comes when a line is typed ahead of the screen."""
        if event.key == "ctrl+j":
            event.stop()
            event.prevent_default()
            await self.action_submit()
