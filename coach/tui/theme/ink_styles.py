"""The styles that colours are written in."""

from functools import lru_cache

from rich.style import Style

from coach.tui.theme.colour_depth import Depth
from coach.tui.theme.palette import OWN_GROUND


@lru_cache(maxsize=1024)  # making a style takes far longer than finding it
def ink_style(depth: Depth, ground: str, colour: str, bold: bool, turned: bool) -> Style:
    """Return the style for a colour on a ground; `turned` is the ground's colour on the other.

    Without colours, and on a ground that only the terminal knows, it is reversed instead.
    """
    if depth == "none":
        return Style(bold=bold, reverse=turned)
    if turned and ground == OWN_GROUND:
        return Style(color=colour, bgcolor=ground, bold=bold, reverse=True)
    if turned:
        return Style(color=ground, bgcolor=colour, bold=bold)
    return Style(color=colour, bgcolor=ground, bold=bold)
