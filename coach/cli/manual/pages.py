"""The pages of the manual by name: the written ones, and one for each command."""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Final

import coach
from coach.cli.arguments import Argument, Call, Option, call_of
from coach.cli.registry import COMMANDS, Command
from coach.session.keymap import ACTIONS, GROUPS
from coach.settings.key_names import key_label
from coach.text import clean

WRITTEN: Final = ("first", "writing", "steps", "orders", "questions", "changes")
"""The pages that are of no one command, in reading order."""

FOLDER: Final = Path(coach.__file__).parent / "pages"


@dataclass(frozen=True, slots=True)
class Page:
    """One page: its name, its subject, and its Markdown."""

    name: str
    about: str
    text: Callable[[], str]


def page_source(name: str) -> str:
    """Return a page as written, in Markdown, cleaned of control characters.

    Raises:
        OSError: The installation lacks it.
    """
    return clean((FOLDER / f"{name}.md").read_text(encoding="utf-8"))


def _written(name: str) -> Page:
    title = page_source(name).splitlines()[0].removeprefix("# ")
    return Page(name, title, lambda: page_source(name))


def _of(command: Command) -> Page:
    def text() -> str:
        page = command_page(call_of(command), page_source(f"commands/{command.name}"))
        return f"{page}\n{key_tables()}\n" if command.name == "keys" else page

    return Page(command.name, command.help, text)


def all_pages() -> list[Page]:
    """Return every page: the written ones, then each command in the order of the help."""
    return [*map(_written, WRITTEN), *map(_of, COMMANDS.values())]


def page_named(name: str) -> Page:
    """Return the page of one name.

    Raises:
        KeyError: There is none.
    """
    return _of(COMMANDS[name]) if name in COMMANDS else _written(name)


def key_tables() -> str:
    """Return a Markdown table of keys for each group of actions."""
    parts = ["## Every key of the bench"]
    for group, title in GROUPS:
        rows = [
            f"| {', '.join(f'`{_cell(key_label(key))}`' for key in action.keys)} | {action.help} |"
            for action in ACTIONS
            if action.group == group
        ]
        parts.append("\n".join((f"### {title}", "", "| key | what it does |", "|---|---|", *rows)))
    return "\n\n".join(parts)


def _cell(text: str) -> str:
    return text.replace("|", "\\|")


def command_page(call: Call, written: str) -> str:
    """Return a command's page in Markdown; `written` is its title and text."""
    title, _, words = written.partition("\n")
    parts = [title, f"```text\n{usage(call)}\n```", words.strip(), _table(call)]
    return "\n\n".join(part for part in parts if part) + "\n"


def usage(call: Call) -> str:
    """Return the usage in one line: `coach plan [options] FILE`."""
    behind = [_argument(argument) for argument in call.arguments]
    return " ".join(["coach", call.name, *(["[options]"] if call.own_options else []), *behind])


def option_words(option: Option) -> str:
    """Return an option as it is typed, with its value: `-o, --output PAGE`."""
    flags = ", ".join(option.flags)
    return f"{flags} {value_words(option.value)}" if option.value else flags


def value_words(value: Argument) -> str:
    """Return the name of a value, or its choices."""
    return "|".join(value.choices) if value.choices else value.name


def _argument(argument: Argument) -> str:
    words = argument.name + (" …" if argument.repeated else "")
    return words if argument.needed else f"[{words}]"


def _table(call: Call) -> str:
    rows = [(value_words(a), a.help) for a in call.arguments if a.help]
    rows += [(option_words(option), option.help) for option in call.own_options]
    if not rows:
        return ""
    cells = "".join(f"| `{_cell(words)}` | {_cell(said)} |\n" for words, said in rows)
    return f"## What it can be called with\n\n| you type | it does |\n|---|---|\n{cells}".rstrip()
