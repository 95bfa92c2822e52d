"""Our light and dark colours, and keeping a cord's colour visible on them."""

from dataclasses import dataclass, replace
from functools import cache
from typing import Final

from coach.colour import BLACK, WHITE, contrast, luminance, mixed
from coach.settings.settings import Theme
from coach.tui.theme.colour_depth import SIXTEEN, Depth, nearest_colour

TEXT_CONTRAST: Final = 7.0
PICTURE_CONTRAST: Final = 3.0
_STEPS: Final = 50
_LIT: Final = 0.3  # how far towards white a cord is on its lit side
_SHADED: Final = 0.42  # and towards black on the other
_FADE: Final = 0.16  # how much of a cord's colour goes with each step above the hands


@dataclass(frozen=True, slots=True)
class Palette:
    """The colours of one theme, as `#rrggbb`; all but `bar` and `room` carry text."""

    name: str
    dark: bool
    background: str
    text: str
    quiet: str
    figure: str  # the count
    warning: str
    bar: str  # what is drawn but is no cord
    room: str  # the part of a bar that is still to fill
    depth: Depth = "full"
    own: bool = False  # whether the terminal's own colours are shown in the place of these

    def shown(self, colour: str) -> str:
        """Return a colour as a terminal is asked for it: itself, or its palette index.

        Ground and text are the terminal's own, so that both are visible on any terminal.
        """
        if not self.own:
            return colour
        if colour in (self.background, self.text):
            return OWN_GROUND
        return f"color({SIXTEEN.index(nearest_colour(colour, '16'))})"


OWN_GROUND: Final = "default"
"""What a terminal calls its own ground, and its own colour of text."""

DARK: Final = Palette(
    name="coach-dark", dark=True, background="#12181a", text="#f3efe4", quiet="#b4bdb6",
    figure="#ffd98a", warning="#ffb499", bar="#8fa39b", room="#66746f",
)  # fmt: skip
LIGHT: Final = Palette(
    name="coach-light", dark=False, background="#fbf7ee", text="#1b211f", quiet="#46504b",
    figure="#6b2f12", warning="#8c1f0c", bar="#5f7068", room="#848d88",
)  # fmt: skip


_DARK_16: Final = Palette(
    name="coach-dark-16", dark=True, background="#000000", text="#ffffff", quiet="#aaaaaa",
    figure="#55ffff", warning="#ffff55", bar="#aaaaaa", room="#aaaaaa", depth="16",
)  # fmt: skip
_LIGHT_16: Final = Palette(
    name="coach-light-16", dark=False, background="#ffffff", text="#000000", quiet="#000000",
    figure="#0000aa", warning="#aa0000", bar="#555555", room="#555555", depth="16",
)  # fmt: skip


_OWN: Final = Palette(
    name="coach-own", dark=True, background="#000000", text="#ffffff", quiet="#ffffff",
    figure="#ffffff", warning="#ffffff", bar="#ffffff", room="#ffffff", depth="16", own=True,
)  # fmt: skip


def palette_for(theme: Theme, depth: Depth) -> Palette:
    """Return the colours of a theme for a terminal's number of colours."""
    if theme == "own" and depth != "none":
        return _OWN
    palette = LIGHT if theme == "light" else DARK
    if depth == "16":
        return _LIGHT_16 if theme == "light" else _DARK_16
    if depth == "256":
        return _of_256(palette)
    return replace(palette, depth=depth)


def _of_256(palette: Palette) -> Palette:
    """Return a palette rounded to 256 colours without losing contrast."""
    ground = palette.background

    def seen(colour: str, least: float = TEXT_CONTRAST) -> str:
        return seen_on(colour, ground, least, "256")

    return replace(palette, name=f"{palette.name}-256", depth="256",
        text=seen(palette.text), quiet=seen(palette.quiet), figure=seen(palette.figure),
        warning=seen(palette.warning), bar=seen(palette.bar, PICTURE_CONTRAST),
        room=seen(palette.room, PICTURE_CONTRAST),
    )  # fmt: skip


@cache
def seen_on(
    colour: str, background: str, least: float = PICTURE_CONTRAST, depth: Depth = "full"
) -> str:
    """Return a colour moved towards white or black just far enough to be visible.

    Args:
        colour: As "#rrggbb".
        background: The colour behind it, "#rrggbb".
        least: The contrast ratio of WCAG 2.2 that is needed, from 1 to 21.
        depth: How many colours the terminal has; both are rounded to them and compared.
    """
    goal = WHITE if luminance(background) < 0.18 else BLACK  # noqa: PLR2004 - half way
    for step in range(_STEPS + 1):
        found = mixed(colour, goal, step / _STEPS)
        if contrast(nearest_colour(found, depth), nearest_colour(background, depth)) >= least:
            return found
    return goal


@cache
def faded(colour: str, background: str, age: int, depth: Depth = "full") -> str:
    """Return a colour paler with each step of age, but always visible.

    Args:
        colour: As "#rrggbb".
        background: The colour behind it, "#rrggbb".
        age: How many steps ago it was made, from 0.
        depth: How many colours the terminal has.
    """
    seen = seen_on(colour, background, PICTURE_CONTRAST, depth)
    pale = mixed(seen, background, 1 - (1 - _FADE) ** min(age, 6))
    return seen_on(pale, background, PICTURE_CONTRAST, depth)


@cache
def toned(colour: str, background: str, depth: Depth, *, light: bool) -> str:
    """Return a colour in light or in shade, as far as it stays visible on the background.

    Args:
        colour: As "#rrggbb".
        background: The colour behind it, "#rrggbb".
        depth: How many colours the terminal has.
        light: Whether towards white, else towards black.
    """
    goal, most = (WHITE, _LIT) if light else (BLACK, _SHADED)
    for step in range(_STEPS, 0, -1):
        found = mixed(colour, goal, most * step / _STEPS)
        if (
            contrast(nearest_colour(found, depth), nearest_colour(background, depth))
            >= PICTURE_CONTRAST
        ):
            return found
    return colour
