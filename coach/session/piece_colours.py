"""The colourway that each piece on the bench is shown in."""

import json
from dataclasses import replace
from pathlib import Path
from typing import Final

from coach.plan.plan_model import Plan
from coach.project.model import Project
from coach.project.tried_colours import TriedColours, WrongColour
from coach.settings.overrides import read_whole, write_whole

FILE: Final = "colourways.json"
_OWN: Final = "The colours that the piece was begun in."


class Colourways:
    """Stores the name of the colourway that was chosen for each piece, beside the pieces.

    It is how a piece is shown, and no part of what happened to it: none is needed to work on it.
    """

    def __init__(self, folder: Path | None = None) -> None:
        """Keep them in a file of `folder`; None keeps them in memory only."""
        self._path = folder / FILE if folder else None
        self._chosen: dict[int, str] = {}

    def of(self, piece_id: int) -> str:
        """Return the name of the colourway of a piece; "" for the colours it was begun in."""
        if piece_id not in self._chosen:
            stored = read_whole(self._path).get(str(piece_id))
            self._chosen[piece_id] = stored if isinstance(stored, str) else ""
        return self._chosen[piece_id]

    def turn(self, piece_id: int, project: Project) -> str:
        """Choose the next colourway of a project for a piece, and say which that is."""
        tried = _tried(project, self.of(piece_id))
        told = tried.turn()
        if not project.colourways:
            return told
        lasts = self._put(piece_id, tried.name)
        told = told if tried.name else _OWN
        return told if lasts else f"{told} It could not be saved for next time."

    def _put(self, piece_id: int, name: str) -> bool:
        self._chosen[piece_id] = name
        if self._path is None:
            return True
        data = dict(read_whole(self._path))
        data.pop(str(piece_id), None)
        if name:
            data[str(piece_id)] = name
        return write_whole(self._path, json.dumps(data))


def in_colours(plan: Plan, name: str) -> Plan:
    """Return a plan in a colourway of its project; as it is in one that there is not."""
    return replace(plan, project=_tried(plan.project, name).project()) if name else plan


def _tried(project: Project, name: str) -> TriedColours:
    tried = TriedColours(project)
    try:
        if name:
            tried.take(name)
    except WrongColour:  # the file has been edited since: its own colours are left
        return TriedColours(project)
    return tried
