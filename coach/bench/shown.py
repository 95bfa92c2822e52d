"""A widget that is drawn when a frame is, however often it was asked to be drawn anew."""

from collections.abc import Callable

from rich.text import Text
from textual.widget import Widget


class Shown(Widget):
    """Shows what a function gives for the size that there is, in columns and rows.

    A burst of keys asks for many drawings and gets one a frame.
    """

    def __init__(self, draw: Callable[[int, int], Text], name: str) -> None:
        """Take what draws, and the widget's id."""
        super().__init__(id=name)
        self._draw = draw

    def render(self) -> Text:
        """Give the drawing."""
        return self._draw(*self.size)
