"""Loading settings from a folder, with a report of what is wrong with them."""

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from coach.settings.overrides import Kept
from coach.settings.read_settings import read_settings
from coach.yaml_reader.file_loader import load
from coach.yaml_reader.render import as_lines

FILE: Final = "settings.yaml"
CHANGES: Final = "changed-on-the-bench.json"


@dataclass(frozen=True, slots=True)
class LoadedSettings:
    """The settings in use, and the report on their file, empty if all is well."""

    kept: Kept
    report: tuple[str, ...] = ()


def load_settings(folder: Path, actions: Mapping[str, tuple[str, ...]]) -> LoadedSettings:
    """Load the settings in a folder; without a file there, the defaults.

    Args:
        folder: Where the maker's file is, and what was changed on the bench.
        actions: All actions that keys can be given to, with their default keys.
    """
    path = folder / FILE
    loaded = load(path)
    if any(problem.code == "MISSING-FILE" for problem in loaded.problems):
        return LoadedSettings(Kept(path=folder / CHANGES))
    reading = read_settings(loaded.text or "", actions)
    problems = (*loaded.problems, *reading.problems)
    kept = Kept(reading.settings, folder / CHANGES)
    return LoadedSettings(kept, tuple(as_lines(str(path), loaded.text or "", problems)))
