"""Finding a project by its path, or by its name among those shipped with the program."""

import argparse
from dataclasses import dataclass
from difflib import get_close_matches
from pathlib import Path
from typing import Final

import coach
from coach.text import join_words, one_line

_ENDINGS: Final = (".yaml", ".yml")
SHELF: Final = "shelf:"  # before the name of a project that comes with the program


class NoSuchProject(Exception):
    """A name that is neither a file nor on the shelf; the text suggests near names."""


@dataclass(frozen=True, slots=True)
class FoundProject:
    """A project's file, and the key by which its pieces recognize it."""

    path: Path
    key: str


def add_project(parser: argparse.ArgumentParser, also: str = "", *, needed: bool = True) -> None:
    """Add the argument for a project.

    Args:
        parser: The command's parser.
        also: What else it may be, for its help: `the name of a piece`.
        needed: Whether it is required.
    """
    known = join_words(["a project file", "a name from the shelf", *([also] if also else [])], "or")
    number = {} if needed else {"nargs": "?", "default": ""}
    parser.add_argument("project", metavar="FILE", help=known, **number)  # type: ignore[arg-type]


def shipped_projects() -> list[Path]:
    """Return the files of the shipped projects, by name."""
    home = Path(coach.__file__).parent
    for folder in (home / "_projects", home.parent / "projects"):
        if folder.is_dir():
            return sorted(folder.glob("*.yaml"))
    return []


def find_project(name: str) -> FoundProject:
    """Return the project that `name` is the path or the shipped name of. Raises NoSuchProject."""
    path = Path(name)
    if _is_there(path):
        return FoundProject(path, str(path.resolve()))
    shipped = {file.stem: file for file in shipped_projects()}
    wanted = path.stem if path.suffix in _ENDINGS else name
    if wanted in shipped and path.parent == Path():
        return FoundProject(shipped[wanted], f"{SHELF}{wanted}")
    near = _near(path, list(shipped))
    hint = f" Did you mean {join_words(near, 'or')}?" if near else ""
    known = f" Built-in projects: {join_words(list(shipped))}."
    raise NoSuchProject(f"There is no project ‘{one_line(name)}’.{hint or known}")


def project_path(key: str) -> Path | None:
    """Return the project file of a piece by its key, or None if it is gone."""
    if key.startswith(SHELF):
        return next(
            (file for file in shipped_projects() if file.stem == key.removeprefix(SHELF)), None
        )
    path = Path(key)
    return path if _is_there(path) else None


def _is_there(path: Path) -> bool:
    try:
        return path.exists()
    except (OSError, ValueError):  # a name that no file can have
        return False


def _near(path: Path, shipped: list[str]) -> list[str]:
    """Return names similar to a wrong one: files beside it, and the shelf."""
    try:
        beside = [
            str(path.with_name(f.name)) for f in path.parent.iterdir() if f.suffix in _ENDINGS
        ]
    except (OSError, ValueError):
        beside = []
    names = [one_line(name) for name in (*shipped, *beside)]
    return get_close_matches(one_line(str(path)), names, n=3, cutoff=0.5)
