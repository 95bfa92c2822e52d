"""A cache of Rich styles for colours; making one takes far longer than looking it up."""

from functools import lru_cache

from rich.style import Style

from coach.tui.theme.colour_depth import Depth
from coach.tui.theme.palette import OWN_GROUND


@lru_cache(maxsize=1024)
def cell_style(depth: Depth, ground: str, colour: str, bold: bool, turned: bool) -> Style:
    """Return the style of a colour on the ground, cached.

    Without colours, and on a ground that only the terminal knows, `turned` swaps ink and ground.

    Args:
        depth: How many colours the terminal has.
        ground: The colour of the ground.
        colour: The colour of the character.
        bold: Whether it is bold.
        turned: Whether colour and ground are swapped.
    """
    if depth == "none":
        return Style(bold=bold, reverse=turned)
    if turned and ground == OWN_GROUND:
        return Style(color=colour, bgcolor=ground, bold=bold, reverse=True)
    if turned:
        return Style(color=ground, bgcolor=colour, bold=bold)
    return Style(color=colour, bgcolor=ground, bold=bold)


@lru_cache(maxsize=1024)
def two_toned(depth: Depth, colour: str, ground: str) -> Style:
    """Return the style of one colour on another; without colours none.

    Args:
        depth: How many colours the terminal has.
        colour: The colour of the character.
        ground: That of the rest of its cell.
    """
    return Style() if depth == "none" else Style(color=colour, bgcolor=ground)
