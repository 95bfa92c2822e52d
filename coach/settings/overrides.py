"""The settings in use: those of the maker's file, overridden by changes made on the bench.

The maker's own file is never written. A change made on the bench remembers what the file said
then; once the file says something else, the file wins again.
"""

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from types import MappingProxyType
from typing import Any, Final

from coach.knots.names import KNOTS
from coach.settings.settings import COUNT_BY, SKILLS, THEMES, UNITS, Settings
from coach.settings.small_file import SmallFile

CHANGEABLE: Final = ("any_key", "count_by", "count_by_knot", "units", "speech", "skill", "theme")
"""The settings that can be changed on the bench."""


class Kept:
    """The current settings, `now`, and their storage."""

    def __init__(self, written: Settings | None = None, path: Path | None = None) -> None:
        """Take the settings of the maker's file, and the file for changes; None stores none."""
        self._written = written or Settings()
        self._file = SmallFile(path, shared=False)
        self._changes = _changes(self._file.read(), self._written)
        self.now = replace(self._written, **self._changes)

    def change(self, **values: Any) -> bool:
        """Change some of `CHANGEABLE`; return False if that could not be stored."""
        self._changes |= values
        self.now = replace(self.now, **values)
        data = {
            name: {"was": _plain(getattr(self._written, name)), "is": _plain(value)}
            for name, value in self._changes.items()
        }
        return self._file.change(data)


def _changes(data: Mapping[str, Any], written: Settings) -> dict[str, Any]:
    """Return the stored changes that still hold, without those this version does not know."""
    found: dict[str, Any] = {}
    for name in CHANGEABLE:
        change = data.get(name)
        if not isinstance(change, dict) or change.get("was") != _plain(getattr(written, name)):
            continue
        value = change.get("is")
        if _fits(name, value):
            found[name] = MappingProxyType(value) if isinstance(value, dict) else value
    return found


def _fits(name: str, value: object) -> bool:
    if name == "count_by_knot":
        return isinstance(value, dict) and all(
            knot in KNOTS and by in COUNT_BY for knot, by in value.items()
        )
    if name in ("any_key", "speech"):
        return isinstance(value, bool)
    return value in {"units": UNITS, "skill": SKILLS, "theme": THEMES}.get(name, COUNT_BY)


def _plain(value: object) -> object:
    return dict(value) if isinstance(value, Mapping) else value
