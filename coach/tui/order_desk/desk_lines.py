"""The texts of the order desk, wrapped to the width."""

from collections.abc import Sequence
from textwrap import wrap

from rich.text import Text

from coach.tui.layout.styled_text import Inks


def section(inks: Inks, heading: str, told: Sequence[str], width: int) -> list[Text]:
    """Return lines under a heading."""
    return [Text(heading, inks.style("quiet")), *wrapped_lines(inks, told, width)]


def wrapped_lines(inks: Inks, told: Sequence[str], width: int) -> list[Text]:
    """Return lines wrapped to the width, continuations indented.

    Args:
        inks: The styles.
        told: The lines; spaces at the beginning of one indent all of it.
        width: The columns that there are.
    """
    ink = inks.style("text")
    found = []
    for line in told:
        inset = " " * (len(line) - len(line.lstrip()))
        folded = wrap(line.strip(), width, initial_indent=inset, subsequent_indent=f"{inset}  ")
        found += [Text(part, ink) for part in folded or [""]]
    return found
