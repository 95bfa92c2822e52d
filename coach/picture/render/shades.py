"""The colours of cords in light and shade, and a mark for each, distinct in grey too."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from coach.colour import BLACK, WHITE, luminance, mixed
from coach.project.model import Project

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
    """Return the look of each cord, by its name, from its colour as `#rrggbb`."""
    return {
        cord: look_of(colours[cord], _MARKS[number % len(_MARKS)])
        for number, cord in enumerate(cords)
    }


def looks_of(project: Project) -> dict[str, Look]:
    """Return how each cord of a project looks in its own colours."""
    return looks(list(project.cords), {cord.id: cord.colour for cord in project.cords.values()})


def look_of(colour: str, dashes: tuple[float, ...] = _MARKS[0]) -> Look:
    """Return how a cord of a colour looks."""
    dark = luminance(colour) < 0.02  # noqa: PLR2004 - next to black
    return Look(
        edge=mixed(colour, BLACK, 0.62),
        shade=mixed(colour, BLACK, 0.3),
        body=mixed(colour, WHITE, 0.12) if dark else colour,
        light=mixed(colour, WHITE, 0.35),
        mark=mixed(colour, BLACK, 0.5) if not dark else mixed(colour, WHITE, 0.35),
        dashes=dashes,
    )
