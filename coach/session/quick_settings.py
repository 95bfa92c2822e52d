"""Settings that keys change on the bench, and the colourway in which a piece is shown."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path
from types import MappingProxyType
from typing import Any, Final

from coach.plan.plan_model import Plan
from coach.project.model import Project
from coach.project.tried_colours import TriedColours, WrongColour
from coach.settings.overrides import Kept
from coach.settings.settings import COUNT_BY, THEMES, CountBy
from coach.settings.small_file import SmallFile

_BY: Final = MappingProxyType(
    {
        "tie": "One press counts one tie.",
        "pass": "One press counts one pass of a tie.",
        "step": "One press counts the whole step.",
    }
)
_THEME: Final = MappingProxyType(
    {
        "dark": "Light on a dark ground.",
        "light": "Dark on a light ground.",
        "own": "The terminal's own colours.",
    }
)
FILE: Final = "colourways.json"
_OWN: Final = "The colours that the piece was begun in."


@dataclass(frozen=True, slots=True)
class Toggles:
    """Changes settings in use; every method returns a sentence with the new value."""

    kept: Kept

    def by_action(self, knot: Callable[[], str]) -> dict[str, Callable[[], str]]:
        """Return the method for each action by its id; `knot` returns the current knot."""
        return {
            "any_key": self.any_key,
            "count_by": self.count_by,
            "count_by_knot": lambda: self.count_by_knot(knot()),
            "units": self.units,
            "speech": self.speech,
            "theme": self.theme,
        }

    def any_key(self) -> str:
        """Switch whether any key counts."""
        on = not self.kept.now.any_key
        told = (
            "Any key counts now; escape stops that." if on else "Only the counting keys count now."
        )
        return self._changed(told, any_key=on)

    def count_by(self) -> str:
        """Cycle what a press counts: tie, pass, step."""
        by = _after(self.kept.now.count_by)
        return self._changed(_BY[by], count_by=by)

    def count_by_knot(self, knot: str) -> str:
        """Cycle what a press counts for one knot: tie, pass, step, the general setting."""
        if not knot:
            return "No knot is at hand."
        chosen = dict(self.kept.now.count_by_knot)
        by = chosen.pop(knot, None)
        if by == COUNT_BY[-1]:
            told = "as the others"
        else:
            chosen[knot] = _after(by) if by else COUNT_BY[0]
            told = f"by {chosen[knot]}"
        return self._changed(
            f"The {knot} is counted {told}.", count_by_knot=MappingProxyType(chosen)
        )

    def units(self) -> str:
        """Switch between centimetres and inches."""
        inches = self.kept.now.units == "cm"
        told = f"Lengths are shown in {'inches' if inches else 'centimetres'}."
        return self._changed(told, units="in" if inches else "cm")

    def theme(self) -> str:
        """Cycle the theme: dark, light, the terminal's own colours."""
        theme = THEMES[(THEMES.index(self.kept.now.theme) + 1) % len(THEMES)]
        return self._changed(_THEME[theme], theme=theme)

    def speech(self) -> str:
        """Switch speech on or off."""
        on = not self.kept.now.speech
        return self._changed("Each step is spoken." if on else "Nothing is spoken.", speech=on)

    def _changed(self, told: str, **values: Any) -> str:
        lasts = self.kept.change(**values)
        return told if lasts else f"{told} It could not be saved for next time."


def _after(by: CountBy) -> CountBy:
    return COUNT_BY[(COUNT_BY.index(by) + 1) % len(COUNT_BY)]


class Colourways:
    """Stores the name of the colourway chosen for each piece, beside the pieces.

    It is how a piece is shown, not an event of it: the piece can be worked on without.
    """

    def __init__(self, folder: Path | None = None) -> None:
        """Set the folder of the file; None keeps them in memory only."""
        self._file = SmallFile(folder / FILE if folder else None)
        self._chosen: dict[int, str] = {}

    def of(self, piece_id: int) -> str:
        """Return the name of the colourway of a piece; "" for the colours it was begun in."""
        if piece_id not in self._chosen:
            stored = self._file.read().get(str(piece_id))
            self._chosen[piece_id] = stored if isinstance(stored, str) else ""
        return self._chosen[piece_id]

    def turn(self, piece_id: int, project: Project) -> str:
        """Choose the next colourway of a project for a piece, and return it in a sentence."""
        tried = _tried(project, self.of(piece_id))
        told = tried.turn()
        if not project.colourways:
            return told
        lasts = self._put(piece_id, tried.name)
        told = told if tried.name else _OWN
        return told if lasts else f"{told} It could not be saved for next time."

    def _put(self, piece_id: int, name: str) -> bool:
        self._chosen[piece_id] = name
        return self._file.change({str(piece_id): name or None})


def in_chosen_colourway(plan: Plan, name: str) -> Plan:
    """Return a plan in a colourway of its project; unchanged for an unknown one."""
    return replace(plan, project=_tried(plan.project, name).project()) if name else plan


def _tried(project: Project, name: str) -> TriedColours:
    tried = TriedColours(project)
    try:
        if name:
            tried.take(name)
    except WrongColour:  # the file has been edited since: its own colours are left
        return TriedColours(project)
    return tried
