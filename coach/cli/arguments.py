"""The arguments and options of each command, from its parser, for completion and manual."""

import argparse
from dataclasses import dataclass
from typing import Final, Literal, TypeAlias

from coach.cli.project_finder import shipped_projects
from coach.cli.registry import COMMANDS, Command, parser_of
from coach.knots.names import KNOTS, ROW_SYNONYMS, SYNONYMS

Kind: TypeAlias = Literal["project", "knot", "piece", "file", "label", "order", ""]

KINDS: Final[dict[str, Kind]] = {
    "project": "project", "projects": "project", "knot": "knot", "piece": "piece", "file": "file",
    "output": "file", "makes": "project", "sheet": "file", "what": "label", "order": "order",
}  # fmt: skip
"""What an argument names, by what the command calls it; a project is on the shelf or in a file."""


@dataclass(frozen=True, slots=True)
class Argument:
    """A positional argument, or the value of an option: choices, or names of a kind."""

    name: str
    help: str
    kind: Kind
    choices: tuple[str, ...]
    repeated: bool = False
    needed: bool = True

    @property
    def words(self) -> tuple[str, ...]:
        """The possible values known beforehand: choices, or names shipped with the program."""
        return self.choices or words_of(self.kind)

    @property
    def takes_file(self) -> bool:
        """Whether it may be a file."""
        return self.kind in ("project", "file")


@dataclass(frozen=True, slots=True)
class Option:
    """One option of a command: its spellings, its help, and its value."""

    flags: tuple[str, ...]
    help: str
    value: Argument | None


@dataclass(frozen=True, slots=True)
class Call:
    """One command with its options and its arguments in order."""

    name: str
    help: str
    options: tuple[Option, ...]
    arguments: tuple[Argument, ...]

    @property
    def own_options(self) -> tuple[Option, ...]:
        """Its options except help, which all have."""
        return tuple(option for option in self.options if "--help" not in option.flags)


def all_calls() -> list[Call]:
    """Return every command with its arguments; loads the modules of all."""
    return [call_of(command) for command in COMMANDS.values()]


def call_of(command: Command) -> Call:
    """Return a command with its arguments; loads its module."""
    parser = parser_of(command)
    actions = parser._actions  # noqa: SLF001 - argparse tells its arguments nowhere else
    options = tuple(
        Option(tuple(a.option_strings), a.help or "", None if a.nargs == 0 else _argument(a))
        for a in actions
        if a.option_strings
    )
    behind = tuple(_argument(a) for a in actions if not a.option_strings)
    return Call(command.name, parser.description or "", options, behind)


def _argument(action: argparse.Action) -> Argument:
    choices = tuple(str(choice) for choice in action.choices or () if choice)
    kind = "" if choices else KINDS.get(action.dest, "")
    name = str(action.metavar or action.dest)
    repeated, needed = action.nargs in ("*", "+"), action.nargs not in ("*", "?")
    return Argument(name, action.help or "", kind, choices, repeated, needed)


def words_of(kind: Kind) -> tuple[str, ...]:
    """Return the names of a kind that are shipped with the program."""
    if kind == "project":
        return tuple(path.stem for path in shipped_projects())
    return (*KNOTS, *sorted({*SYNONYMS, *ROW_SYNONYMS})) if kind == "knot" else ()
