"""Distinct colours for the cords of a piece on a terminal with sixteen colours.

There the nearest visible colour would often be the same for several cords, so the colours
are assigned: each cord gets the one most like its own that no other cord has.
"""

from collections.abc import Mapping, Sequence
from functools import cache
from math import cbrt, dist, hypot
from typing import Final

from coach.colour import contrast, oklab
from coach.tui.theme.colour_depth import SIXTEEN
from coach.tui.theme.palette import PICTURE_CONTRAST

_LIGHTNESS: Final = 0.7
"""How much lightness tells beside hue: less, for a pale cord must be dark on a light ground."""


def distinct_colours(
    colours: Mapping[str, str], marks: Mapping[str, str], background: str
) -> dict[str, str]:
    """Return one of the sixteen colours for each cord, visible on a background.

    No two cords share a colour while there are any left, and none share colour and mark as long
    as a mark stands for no more cords than there are colours.

    Args:
        colours: The cords' own colours, `#rrggbb`, by their names.
        marks: The letter below each cord on the board.
        background: The ground that they are drawn on, `#rrggbb`.
    """
    seen = [colour for colour in SIXTEEN if contrast(colour, background) >= PICTURE_CONTRAST]
    given: dict[str, str] = {}
    while len(given) < len(colours):
        taken = {(marks[cord], colour) for cord, colour in given.items()}
        left = {cord: colour for cord, colour in colours.items() if cord not in given}
        dealt = _dealt(left, marks, seen, taken) or _dealt(left, marks, seen, set())
        given |= dealt
    return given


def _dealt(
    colours: Mapping[str, str],
    marks: Mapping[str, str],
    seen: Sequence[str],
    taken: set[tuple[str, str]],
) -> dict[str, str]:
    """Assign each visible colour at most once, the closest matches first."""
    pairs = [(_difference(own, colour), cord, colour)
             for cord, own in colours.items() for colour in seen]  # fmt: skip
    given: dict[str, str] = {}
    for _, cord, colour in sorted(pairs):
        fresh = colour not in given.values() and (marks[cord], colour) not in taken
        if fresh and cord not in given:
            given[cord] = colour
    return given


def _difference(one: str, other: str) -> float:
    """Return how unlike two colours look, by hue first and then by lightness."""
    return dist(_perceived(one), _perceived(other))


@cache
def _perceived(colour: str) -> tuple[float, float, float]:
    """Return weighted lightness and two coordinates of hue, stretched for pale colours.

    In OKLab a muted green is nearer to grey than to a vivid green, but a maker looks for green:
    by the cube root of its chroma it is nearer to that.
    """
    lightness, a, b = oklab(colour)
    drawn_out = cbrt(hypot(a, b)) ** 2 or 1.0
    return _LIGHTNESS * lightness, a / drawn_out, b / drawn_out
