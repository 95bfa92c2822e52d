"""The number of colours of a terminal, and rounding colours to them."""

import os
from collections.abc import Mapping
from functools import cache
from typing import Final, Literal

from rich.color import Color, ColorSystem
from rich.console import Console

Depth = Literal["full", "256", "16", "none"]

_FEWEST: Final = 8
_DEPTHS: Final[Mapping[str | None, Depth]] = {"truecolor": "full", "256": "256", "standard": "16"}
SIXTEEN: Final = (
    "#000000", "#aa0000", "#00aa00", "#aa5500", "#0000aa", "#aa00aa", "#00aaaa", "#aaaaaa",
    "#555555", "#ff5555", "#55ff55", "#ffff55", "#5555ff", "#ff55ff", "#55ffff", "#ffffff",
)  # fmt: skip
"""The sixteen as a VGA text screen shows them; from memory. Terminals differ a little."""

BRIGHTENED: Final = frozenset(SIXTEEN[:8])
"""Those that many terminals of sixteen colours show as the bright ones where they are bold."""


@cache
def nearest_colour(colour: str, depth: Depth) -> str:
    """Return the colour, as `#rrggbb`, that a terminal of this depth shows for another.

    Rounding is not idempotent: the result may itself be shown as another one.
    """
    if depth in ("full", "none"):
        return colour
    parsed = Color.parse(colour)
    if depth == "256":
        return parsed.downgrade(ColorSystem.EIGHT_BIT).get_truecolor().hex
    return SIXTEEN[parsed.downgrade(ColorSystem.STANDARD).number or 0]


def depth_of(environment: Mapping[str, str]) -> Depth:
    """Return the number of colours by environment and terminfo.

    `NO_COLOR`, unless it is empty, asks for none (no-color.org).
    """
    if environment.get("NO_COLOR") or _described() < _FEWEST:
        return "none"
    console = Console(force_terminal=True, _environ=environment)
    return _DEPTHS.get(console.color_system, "none")


def _described() -> int:
    """Return the number of colours in terminfo; enough where there is none."""
    try:
        import curses  # noqa: PLC0415 - not on every system

        curses.setupterm(os.environ.get("TERM", "dumb"), 2)
        return curses.tigetnum("colors")
    except (ImportError, OSError, ValueError, AttributeError):
        return _FEWEST
    except curses.error:
        return _FEWEST
