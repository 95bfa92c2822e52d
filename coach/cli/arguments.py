"""What can stand behind each verb, as the parser knows it, for shells to complete."""

import argparse
from dataclasses import dataclass
from typing import Final, Literal, TypeAlias

from coach.cli.shelf import shelf
from coach.knots.names import KNOTS, ROW_SYNONYMS, SYNONYMS

Kind: TypeAlias = Literal["project", "knot", "piece", "file", ""]

KINDS: Final[dict[str, Kind]] = {
    "check FILE": "project", "plan FILE": "project", "swatch FILE": "project",
    "knot FILE": "project",
    "words FILE": "project", "card FILE": "project", "card PAGE": "file", "new FILE": "file",
    "picture FILE": "project",
    "import FILE": "file", "export PIECE": "piece", "export FILE": "file",
    "pieces NAME": "piece", "how KNOT": "knot",
}  # fmt: skip
"""What each argument without choices names; a project is on the shelf or in a file."""


@dataclass(frozen=True, slots=True)
class Argument:
    """What stands behind a verb, or behind one of its options: choices, or names of a kind."""

    name: str
    kind: Kind
    choices: tuple[str, ...]
    repeated: bool = False

    @property
    def words(self) -> tuple[str, ...]:
        """What can be said of it without asking: choices, or names that come with the program."""
        return self.choices or words_of(self.kind)

    @property
    def takes_file(self) -> bool:
        """Whether a file can stand there."""
        return self.kind in ("project", "file")


@dataclass(frozen=True, slots=True)
class Option:
    """One option of a verb: how it is written, what it is for, and what it takes."""

    flags: tuple[str, ...]
    help: str
    value: Argument | None


@dataclass(frozen=True, slots=True)
class Verb:
    """One verb: its options, and what stands behind it in order."""

    name: str
    help: str
    options: tuple[Option, ...]
    arguments: tuple[Argument, ...]


def verbs_of(whole: argparse.ArgumentParser) -> list[Verb]:
    """Return every verb of a parser with its options."""
    groups = [a for a in whole._actions if isinstance(a, argparse._SubParsersAction)]  # noqa: SLF001 - argparse tells its arguments nowhere else
    return [
        _verb(name, sub, sub.description or "")
        for group in groups
        for name, sub in group.choices.items()
    ]


def _verb(name: str, sub: argparse.ArgumentParser, said: str) -> Verb:
    actions = sub._actions  # noqa: SLF001 - as above
    options = tuple(
        Option(tuple(a.option_strings), a.help or "", None if a.nargs == 0 else _argument(name, a))
        for a in actions
        if a.option_strings
    )
    behind = tuple(_argument(name, a) for a in actions if not a.option_strings)
    return Verb(name, said, options, behind)


def _argument(verb: str, action: argparse.Action) -> Argument:
    name = str(action.metavar or action.dest)
    choices = tuple(str(choice) for choice in action.choices or () if choice)
    kind = KINDS.get(f"{verb} {name}", "")
    return Argument(name, kind, choices, repeated=action.nargs in ("*", "+"))


def words_of(kind: Kind) -> tuple[str, ...]:
    """Return the names of a kind that come with the program."""
    if kind == "project":
        return tuple(path.stem for path in shelf())
    return (*KNOTS, *sorted({*SYNONYMS, *ROW_SYNONYMS})) if kind == "knot" else ()
