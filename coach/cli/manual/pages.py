"""The pages of the manual by name: those that are written, and one for each command."""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Final

import coach
from coach.cli.arguments import call_of
from coach.cli.manual.bench_keys import key_tables
from coach.cli.manual.command_page import command_page
from coach.cli.registry import COMMANDS, Command
from coach.text import clean

WRITTEN: Final = ("first", "writing", "steps", "orders", "questions", "changes")
"""The pages that are of no one command, in reading order."""

FOLDER: Final = Path(coach.__file__).parent / "pages"


@dataclass(frozen=True, slots=True)
class Page:
    """One page: the word that it is called by, what it is about, and its Markdown."""

    name: str
    about: str
    text: Callable[[], str]


def written(name: str) -> str:
    """Return a page as it is written, in Markdown, without anything a terminal would obey.

    Raises:
        OSError: where the installation lacks it.
    """
    return clean((FOLDER / f"{name}.md").read_text(encoding="utf-8"))


def _written(name: str) -> Page:
    title = written(name).splitlines()[0].removeprefix("# ")
    return Page(name, title, lambda: written(name))


def _of(command: Command) -> Page:
    def text() -> str:
        page = command_page(call_of(command), written(f"commands/{command.name}"))
        return f"{page}\n{key_tables()}\n" if command.name == "keys" else page

    return Page(command.name, command.help, text)


def all_pages() -> list[Page]:
    """Return every page: what is written first, then each command in the order of the help."""
    return [*map(_written, WRITTEN), *map(_of, COMMANDS.values())]


def page_named(name: str) -> Page:
    """Return the page of one name.

    Raises:
        KeyError: where there is none.
    """
    return _of(COMMANDS[name]) if name in COMMANDS else _written(name)
