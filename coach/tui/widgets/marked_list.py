"""A list that marks the entry which enter would open."""

from typing import Final

from rich.segment import Segment
from textual.strip import Strip
from textual.widgets import OptionList

SIGN: Final = "> "
_AT: Final = "option"  # what the library says of each cell of an entry


class MarkedList(OptionList):
    """The library's list, with a sign before the entry that is marked.

    The sign is no part of the entries but set as a line is painted: to change an entry, the
    library measures all of them anew, which a long list would feel with every key. Entries leave
    the first two columns free for it.
    """

    COMPONENT_CLASSES = {"marked-list--sign"}  # noqa: RUF012 - as the library has it

    def __init__(self) -> None:
        super().__init__(markup=False)

    def render_line(self, y: int) -> Strip:
        """Return a line, with the sign in its first columns if its entry is the marked one."""
        line = super().render_line(y)
        number = next((s.style.meta.get(_AT) for s in line if s.style), None)
        if number is None or number != self.highlighted:
            return line
        ink = self.get_component_rich_style("marked-list--sign")
        sign = Strip([Segment(SIGN, ink)]).apply_meta({_AT: number})
        return Strip.join([sign, line.crop(len(SIGN))])
