"""A line to write on."""

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
