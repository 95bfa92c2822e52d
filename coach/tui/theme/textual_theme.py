"""A palette as a Textual theme, for what Textual's own widgets draw."""

from typing import Final

from textual.theme import Theme

from coach.tui.theme.palette import Palette

_WANTED: Final = (  # by the library's own styles, of a theme that leaves colours to the terminal
    "ansi-background", "ansi-foreground", "border-blurred", "block-cursor-foreground",
    "block-cursor-background", "input-cursor-background", "input-cursor-foreground",
    "input-selection-background", "input-selection-foreground", "screen-selection-background",
    "screen-selection-foreground",
)  # fmt: skip


def textual_theme(palette: Palette) -> Theme:
    """Return the Textual theme of a palette; no colour in it is Textual's own."""
    if palette.own:
        return _own_theme(palette)
    ground = palette.background
    bars = dict.fromkeys(("scrollbar", "scrollbar-hover", "scrollbar-active"), palette.bar)
    grounds = dict.fromkeys(
        (
            "scrollbar-background",
            "scrollbar-background-hover",
            "scrollbar-background-active",
            "scrollbar-corner-color",
        ),
        ground,
    )
    return Theme(
        name=palette.name,
        dark=palette.dark,
        primary=palette.figure,
        secondary=palette.bar,
        accent=palette.figure,
        warning=palette.warning,
        error=palette.warning,
        foreground=palette.text,
        background=ground,
        surface=ground,
        panel=ground,
        variables={**bars, **grounds, "quiet": palette.quiet},
    )


def _own_theme(palette: Palette) -> Theme:
    """Return the theme that leaves every colour to the terminal."""
    own = "ansi_default"
    scroll = ("", "-hover", "-active", "-background", "-background-hover", "-background-active",
              "-corner-color")  # fmt: skip
    return Theme(
        name=palette.name, dark=palette.dark, ansi=True, primary=own, secondary=own, accent=own,
        warning=own, error=own, success=own, foreground=own, background=own, surface=own,
        panel=own, boost=own,
        variables={
            **dict.fromkeys((f"scrollbar{part}" for part in scroll), own),
            **dict.fromkeys(("quiet", *_WANTED), own), "input-cursor-text-style": "reverse",
        },
    )  # fmt: skip
