"""Trying colours on a project: its colourways in turn, and any cord in another colour."""

import re
from collections.abc import Mapping
from dataclasses import replace
from difflib import get_close_matches
from typing import Final

from coach.project.model import Project
from coach.text import join_words, normalized_name, one_line
from coach.yaml_reader.colours import NAMED, hex_colour
from coach.yaml_reader.edit_mapping import NoPlaceError, with_entry

_BARE: Final = re.compile(r"[A-Za-z][\w -]*[\w]|[A-Za-z]")
_WORDS_OF_YAML: Final = ("yes", "no", "on", "off", "true", "false", "null", "y", "n")


class WrongColour(Exception):
    """An unknown colour, cord or colourway; the text names those that exist."""


class TriedColours:
    """The colours that are being tried on a project's cords.

    `told` is the message about the last change, `name` the colourway that is shown, "" for the
    file's own colours and for tried ones.
    """

    def __init__(self, project: Project) -> None:
        """Start with the colours that the file gives its cords."""
        self._project = project
        self._own = {cord.id: cord.colour for cord in project.cords.values()}
        self.colours = dict(self._own)
        self.name = ""
        self.told = ""

    @property
    def changed(self) -> dict[str, str]:
        """The cords in another colour than in the file, with that colour."""
        return {cord: now for cord, now in self.colours.items() if now != self._own[cord]}

    def project(self) -> Project:
        """Return the project in these colours, each called by the nearest plain name."""
        changed = {
            name: replace(self._project.cords[name], colour=colour, colour_name=colour)
            for name, colour in self.changed.items()
        }
        return replace(self._project, cords={**self._project.cords, **changed})

    def turn(self) -> str:
        """Show the next colourway of the file; after the last, the file's own colours."""
        ways = list(self._project.colourways)
        at = ways.index(self.name) + 1 if self.name in ways else 0
        if not ways:
            return self._say("The file has no colourways: give a cord another colour.")
        if at == len(ways):
            self.colours, self.name = dict(self._own), ""
            return self._say("The colours of the file.")
        self.take(ways[at])
        return self.told

    def take(self, name: str) -> None:
        """Show a colourway of the file. Raises WrongColour."""
        if name not in self._project.colourways:
            known = join_words([f"‘{one}’" for one in self._project.colourways])
            hint = f"It has {known}." if known else "It has none; write them under colourways:."
            raise WrongColour(f"This project has no colourway ‘{one_line(name)}’. {hint}")
        self.colours, self.name = self._own | dict(self._project.colourways[name]), name
        self._say(f"The colourway {name}.")

    def give(self, cord: str, colour: str) -> str:
        """Show a cord in a colour, a name or #rrggbb. Raises WrongColour."""
        if cord not in self._own:
            cords = join_words(list(self._own))
            raise WrongColour(
                f"This project has no cord ‘{one_line(cord)}’. Its cords are {cords}."
            )
        found = hex_colour(colour)
        if found is None:
            raise WrongColour(f"Unknown colour ‘{one_line(colour)}’. {_near(colour)}")
        self.colours[cord], self.name = found, ""
        return self._say(f"{cord} in {one_line(colour)}.")

    def _say(self, told: str) -> str:
        self.told = told
        return told


def _near(text: str) -> str:
    near = get_close_matches(text.strip().lower(), NAMED, n=1)
    hint = "Write a CSS colour name such as sienna, or '#5b7f3a'."
    return f"Did you mean ‘{near[0]}’?" if near else hint


def with_colourway(text: str, name: str, colours: Mapping[str, str]) -> str:
    """Return a project's text with a colourway added, comments and all else kept.

    Args:
        text: The project file.
        name: The colourway's name; one of that name is replaced.
        colours: Colours by cord.

    Raises:
        WrongColour: The name is empty, or there is no place for it in the text.
    """
    called = one_line(name).strip()
    if not normalized_name(called):
        raise WrongColour("A colourway needs a name.")
    said = ", ".join(f'{_key(cord)}: "{colour}"' for cord, colour in colours.items())
    try:
        return with_entry(text, "colourways", _key(called), f"{{{said}}}", "cords")
    except (NoPlaceError, KeyError) as error:
        hint = "Write it under colourways: by hand."
        raise WrongColour(f"The colourway cannot be put into the file. {hint}") from error


def _key(name: str) -> str:
    """Return a name as a YAML key, quoted where YAML would read it as something else."""
    if _BARE.fullmatch(name) and name.lower() not in _WORDS_OF_YAML:
        return name
    return '"' + name.replace("\\", "\\\\").replace('"', '\\"') + '"'
