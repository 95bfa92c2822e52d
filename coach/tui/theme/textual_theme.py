"""A palette as a theme of the terminal library, for what its own widgets draw."""

from textual.theme import Theme

from coach.tui.theme.palette import Palette


def textual_theme(palette: Palette) -> Theme:
    """Return the theme by the palette's name; no colour in it is the library's own."""
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
        variables={**bars, **grounds},
    )
