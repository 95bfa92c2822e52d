"""The bar that shows how far the whole piece is."""

from rich.text import Text

from coach.tui.drawing.cells import UNICODE, Glyphs
from coach.tui.layout.styled_text import Inks, written


def bar(inks: Inks, glyphs: Glyphs, done: int, total: int, width: int) -> Text:
    """Return the bar for the whole piece with its figures at the end.

    Args:
        inks: What is written with.
        glyphs: Whether it is drawn in lines or in ASCII.
        done: How many counts are made.
        total: How many there are.
        width: The columns that bar and figures take together.
    """
    told = f"  {done} of {total}"
    room = max(0, width - len(told))
    filled = room * done // total if total else room
    full, empty = ("━", "─") if glyphs is UNICODE else ("=", "-")
    return written(
        (full * filled, inks.style("figure")),
        (empty * (room - filled), inks.style("room")),
        (told, inks.style("quiet")),
    )
