"""How cords look: light and shade of their colours, and a mark for each, seen in grey too."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

_MARKS: Final = (
    (0.08, 0.95), (0.08, 0.2, 0.08, 1.15), (0.08, 0.2, 0.08, 0.2, 0.08, 1.25), (0.3, 1.0),
    (0.08, 0.42), (0.3, 0.2, 0.08, 1.1),
)  # fmt: skip
"""Dashes across each cord in turn, in its own widths; the first is a plain twist."""


@dataclass(frozen=True, slots=True)
class Look:
    """The colours of one cord from its dark edge to its light, and the dashes of its mark."""

    edge: str
    shade: str
    body: str
    light: str
    mark: str
    dashes: tuple[float, ...]


def looks(cords: Sequence[str], colours: Mapping[str, str]) -> dict[str, Look]:
    """Return how each cord looks, by its name, from its colour as `#rrggbb`."""
    return {
        cord: look_of(colours[cord], _MARKS[number % len(_MARKS)])
        for number, cord in enumerate(cords)
    }


def look_of(colour: str, dashes: tuple[float, ...] = _MARKS[0]) -> Look:
    """Return how a cord of a colour looks."""
    dark = _lightness(colour) < 0.02  # noqa: PLR2004 - next to black
    return Look(
        edge=mixed(colour, "#000000", 0.62),
        shade=mixed(colour, "#000000", 0.3),
        body=mixed(colour, "#ffffff", 0.12) if dark else colour,
        light=mixed(colour, "#ffffff", 0.35),
        mark=mixed(colour, "#000000", 0.5) if not dark else mixed(colour, "#ffffff", 0.35),
        dashes=dashes,
    )


def mixed(colour: str, other: str, share: float) -> str:
    """Return a colour with that share of another."""
    pairs = [(int(colour[at : at + 2], 16), int(other[at : at + 2], 16)) for at in (1, 3, 5)]
    return "#" + "".join(f"{round(a + (b - a) * share):02x}" for a, b in pairs)


def _lightness(colour: str) -> float:
    """Return how light a colour is, from 0 to 1 (WCAG relative luminance)."""
    channels = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]  # noqa: PLR2004 - the formula's own
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]
