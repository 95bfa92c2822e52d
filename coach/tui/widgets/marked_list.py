"""A list that marks the entry that enter would open."""

from collections.abc import Callable
from typing import Final

from rich.segment import Segment
from rich.text import Text
from textual.content import Content
from textual.css.styles import RulesMap
from textual.strip import Strip
from textual.style import Style
from textual.visual import RenderOptions, Visual
from textual.widgets import OptionList

SIGN: Final = "> "
_AT: Final = "option"  # what the library says of each cell of an entry


class OneLine(Visual):
    """One line of text that is written when it is first visible.

    To find the height of its entries, Textual would write and wrap all of them.
    """

    def __init__(self, write: Callable[[], Text]) -> None:
        """Set the function that writes the line."""
        self._write = write
        self._content: Content | None = None

    @property
    def content(self) -> Content:
        """The line, written now if it was not."""
        if self._content is None:
            self._content = Content.from_rich_text(self._write())
        return self._content

    def render_strips(
        self, width: int, height: int | None, style: Style, options: RenderOptions
    ) -> list[Strip]:
        """Return the line as Textual paints it."""
        return self.content.render_strips(width, height, style, options)[:1]

    def get_optimal_width(self, rules: RulesMap, container_width: int) -> int:
        """Return the columns that the line takes."""
        return self.content.get_optimal_width(rules, container_width)

    def get_height(self, rules: RulesMap, width: int) -> int:
        """Return 1, whatever the text."""
        del rules, width
        return 1


class MarkedList(OptionList):
    """Textual's OptionList with a sign before the marked entry.

    The sign is added as a line is painted: to change an entry, Textual measures all of them anew,
    which a long list would feel with every key. Entries leave the first two columns free for it.
    """

    COMPONENT_CLASSES = {"marked-list--sign"}  # noqa: RUF012 - as the library has it

    def __init__(self) -> None:
        super().__init__(markup=False)

    def action_page_up(self) -> None:
        """Move the mark up a page, or to the first entry if all fit on one."""
        (super().action_page_up if self.scrollable_content_region else self.action_first)()

    def action_page_down(self) -> None:
        """Move the mark down a page, or to the last entry if all fit on one."""
        (super().action_page_down if self.scrollable_content_region else self.action_last)()

    def render_line(self, y: int) -> Strip:
        """Return a line, with the sign in its first columns if its entry is the marked one."""
        line = super().render_line(y)
        number = next((s.style.meta.get(_AT) for s in line if s.style), None)
        if number is None or number != self.highlighted:
            return line
        ink = self.get_component_rich_style("marked-list--sign")
        sign = Strip([Segment(SIGN, ink)]).apply_meta({_AT: number})
        return Strip.join([sign, line.crop(len(SIGN))])
