"""The settings in use: those of the maker's file, overridden by what was changed on the bench.

The maker's own file is never written. A change made on the bench remembers what the file said
then; once the file says something else, the file is right again.
"""

import json
import os
import tempfile
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from types import MappingProxyType
from typing import Any, Final

from coach.knots.names import KNOTS
from coach.settings.settings import COUNT_BY, SKILLS, THEMES, UNITS, Settings

CHANGEABLE: Final = ("any_key", "count_by", "count_by_knot", "units", "speech", "skill", "theme")
"""The settings that can be changed on the bench."""


class Kept:
    """Holds the settings as they are `now`, and stores those that are changed."""

    def __init__(self, written: Settings | None = None, path: Path | None = None) -> None:
        """Take the settings of the maker's file, and the file for changes; None stores none."""
        self._written = written or Settings()
        self._path = path
        self._changes = _changes(path, self._written)
        self.now = replace(self._written, **self._changes)

    def change(self, **values: Any) -> bool:
        """Set some of `CHANGEABLE`; return False if that could not be stored for the next time."""
        self._changes |= values
        self.now = replace(self.now, **values)
        if self._path is None:
            return True
        data = {
            name: {"was": _plain(getattr(self._written, name)), "is": _plain(value)}
            for name, value in self._changes.items()
        }
        return write_whole(self._path, json.dumps(data, indent=1))


def write_whole(path: Path, text: str) -> bool:
    """Write a file wholly or not at all; return False if it cannot be written."""
    try:
        path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        handle, fresh = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}.")
        with os.fdopen(handle, "w", encoding="utf-8") as file:
            file.write(text)
        Path(fresh).replace(path)
    except (OSError, ValueError):
        return False
    return True


def read_whole(path: Path | None) -> Mapping[str, Any]:
    """Read a JSON object from a file of ours; an empty one where none can be read."""
    try:
        data = json.loads(path.read_text(encoding="utf-8")) if path else {}
    except (OSError, ValueError, RecursionError):
        return {}
    return data if isinstance(data, dict) else {}


def _changes(path: Path | None, written: Settings) -> dict[str, Any]:
    """Read the changes that still hold; what this version does not understand does not."""
    found: dict[str, Any] = {}
    data = read_whole(path)
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
