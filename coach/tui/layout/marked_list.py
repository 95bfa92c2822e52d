"""A list that marks the entry which enter would open."""

from typing import Final

from rich.segment import Segment
from rich.style import Style
from textual.strip import Strip
from textual.widgets import OptionList

SIGN: Final = "> "
"""The mark, in the first columns of its entry."""


class Entries(OptionList):
    """A list that marks the entry which enter would open.

    The sign is no part of the entries but set as a line is painted: to change an entry, the
    library measures all of them anew, which a long list would feel with every key.
    """

    def __init__(self, ink: Style) -> None:
        """Take the style of the mark."""
        super().__init__(markup=False)
        self.wear(ink)

    def wear(self, ink: Style) -> None:
        """Take another style for the mark."""
        self._sign = Strip([Segment(SIGN, ink)])

    def render_line(self, y: int) -> Strip:
        """Return a line, with the mark in its first columns if its entry is the chosen one."""
        line = super().render_line(y)
        number = next((s.style.meta.get("option") for s in line if s.style), None)
        if number is None or number != self.highlighted:
            return line
        return Strip.join([self._sign.apply_meta({"option": number}), line.crop(len(SIGN))])
