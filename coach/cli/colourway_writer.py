"""Saving a colourway into a project's file, if that is the maker's own."""

from collections.abc import Mapping
from contextlib import suppress
from pathlib import Path

from coach.cli.project_finder import project_path, shipped_projects
from coach.piece import PieceError
from coach.piece.storage.atomic_write import write_whole
from coach.plan.from_text import read_plan
from coach.project.tried_colours import WrongColour, with_colourway
from coach.text import one_line


def write_colourway(key: str, name: str, colours: Mapping[str, str], *, over: bool = True) -> str:
    """Write a colourway into the file of a project, and return a sentence about it.

    Args:
        key: The key of the project: its path, or that it is from the shelf.
        name: The name of the colourway.
        colours: The colour of each cord that has another one in it.
        over: Whether one of that name may be overwritten.

    Raises:
        WrongColour: It cannot be written; the text says why and what to do.
    """
    path = project_path(key)
    if path is None:
        raise WrongColour("The project's file is gone, so no colourway can be written there.")
    if path in shipped_projects():
        raise WrongColour(
            "This project comes with the coach: copy its file to write colours there."
        )
    if not colours:
        raise WrongColour("All cords are in the file's colours; there is nothing to write.")
    text = _read(path)
    plan = read_plan(text.replace("\r\n", "\n")).plan
    if plan and name in plan.project.colourways and not over:
        raise WrongColour(
            f"There is a colourway {one_line(name)} already; --replace writes over it."
        )
    new = with_colourway(text, name, colours)
    _check(new, name, colours)
    try:
        mode = path.stat().st_mode
        write_whole(path, new.encode("utf-8"), replace=True)
        with suppress(OSError):
            path.chmod(mode)
    except (OSError, PieceError) as error:
        raise WrongColour(f"{one_line(str(path))} cannot be written: {error}") from error
    return f"The colourway {one_line(name)} stands in {one_line(path.name)}."


def _read(path: Path) -> str:
    try:
        return path.read_bytes().decode("utf-8")
    except (OSError, UnicodeDecodeError) as error:
        raise WrongColour(f"{one_line(str(path))} cannot be read.") from error


def _check(text: str, name: str, colours: Mapping[str, str]) -> None:
    """Check that the new text reads back as meant, before it is written."""
    plan = read_plan(text.replace("\r\n", "\n")).plan
    found = plan.project.colourways.get(one_line(name)) if plan else None
    if found is None or dict(found) != dict(colours):
        raise WrongColour("The colourway cannot be put into the file. Write it there by hand.")
