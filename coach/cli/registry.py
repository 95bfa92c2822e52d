"""The registry of commands, used for help, dispatch and completion.

The table has what a list of the commands shows; a command's module in `commands/` has its
arguments (`add_arguments`) and its action (`run`), and is loaded when the command is called.
"""

import argparse
from collections.abc import Sequence
from dataclasses import dataclass
from difflib import get_close_matches
from importlib import import_module
from typing import Final, NoReturn, Protocol, cast

from coach import __version__
from coach.cli.options.parser_errors import error_in_words
from coach.text import join_words, one_line


class CommandModule(Protocol):
    """A module in `commands/`."""

    def add_arguments(self, parser: argparse.ArgumentParser) -> None:
        """Add the command's arguments."""

    def run(self, options: argparse.Namespace) -> int:
        """Carry out the command; return the exit status."""


@dataclass(frozen=True, slots=True)
class Command:
    """One command: its name, its help, an example call, and its module."""

    name: str
    help: str
    example: str
    module: str

    def load(self) -> CommandModule:
        """Return the module."""
        return cast(CommandModule, import_module(f"coach.cli.commands.{self.module}"))


_ALIKE: Final = 0.7  # of the letters: --json is not much like --version

HOME: Final = Command("", "list the pieces and projects, to open one", "coach", "home")
"""What is called without a word."""

COMMANDS: Final = {
    command.name: command
    for command in (
        Command("check", "say what is wrong in project files",
                "coach check my-belt.yaml --watch", "check"),
        Command("plan", "what to cut, how many knots, how large, how long",
                "coach plan tide-band --length '20 cm'", "plan"),
        Command("swatch", "tie ten knots, measure them, and cut with less to spare",
                "coach swatch tide-band", "swatch"),
        Command("quote", "what an order takes, costs, and when it is ready",
                "coach quote reed-keyring --copies 12", "orders.quote"),
        Command("stock", "cord, beads and rings in stock; add to it, count it",
                "coach stock add 'clay cotton 2 mm' --hank '100 m' --price '14 per 100 m'",
                "orders.stock"),
        Command("orders", "how far orders are, when they are ready, what they earned",
                "coach orders stall", "orders.orders"),
        Command("desk", "orders, stock and a quote on one screen, changed by keys",
                "coach desk reed-keyring", "orders.desk"),
        Command("kit", "cut list for all, sheets of labels, and the card, to print",
                "coach kit reed-keyring --copies 10 -o kit.html", "orders.kit"),
        Command("sizes", "printed sizes of wrists and the like, and the ease",
                "coach sizes --units in", "sizes"),
        Command("knot", "start a piece, or go on with the one under way",
                "coach knot reed-keyring --name 'for the shop'", "knot"),
        Command("keys", "say what a pressed key is called and what it does",
                "coach keys", "keys"),
        Command("pieces", "list the pieces, or tell what one took",
                "coach pieces --json", "pieces"),
        Command("how", "how a knot is tied, in words and stages; alone, all knots",
                "coach how square knot", "how"),
        Command("new", "a few questions, and a first project file",
                "coach new my-belt.yaml", "new"),
        Command("words", "the whole piece as numbered written instructions",
                "coach words tide-band --markdown", "words"),
        Command("card", "two sheets to print: the piece, the lists, every step drawn",
                "coach card tide-band -o card.html", "card"),
        Command("picture", "the piece as it looks, at scale, front or back",
                "coach picture tide-band -o tide-band.svg --colour tide=plum", "picture"),
        Command("manual", "pages to read: the first evening, writing a project, each command",
                "coach manual writing", "manual"),
        Command("completion", "completion for your shell",
                "coach completion bash", "completion"),
        Command("export", "write a piece, an order or the stock to one file",
                "coach export 'Tide band' band.coach", "export"),
        Command("import", "take in what was exported, here or elsewhere",
                "coach import band.coach", "import_piece"),
        Command("remove", "remove a piece, after asking; import brings it back",
                "coach remove 'Tide band'", "remove"),
        Command("mend", "see what can be recovered of damaged pieces, and recover it",
                "coach mend", "mend"),
    )
}  # fmt: skip
"""The commands by name, in the order in which help lists them."""


class CommandParser(argparse.ArgumentParser):
    """An ArgumentParser that also suggests the option a misspelt one may be."""

    def called_with(self, given: Sequence[str]) -> argparse.Namespace:
        """Return the options of a call; a wrong one, or one for help, exits."""
        several = any(one.nargs == "*" and not one.option_strings for one in self._actions)
        parse = self.parse_known_intermixed_args if several else self.parse_known_args
        options, unknown = parse(given)
        if unknown:
            written = [word.partition("=")[0] for word in unknown if word.startswith("-")]
            near = _near(written, list(self._option_string_actions))
            self.error(f"Not understood: {' '.join(unknown)}.{near}")
        return options

    def error(self, message: str) -> NoReturn:
        """Print what is wrong with a call, and exit."""
        super().error(error_in_words(message))


def parse_call(given: Sequence[str]) -> tuple[Command, argparse.Namespace]:
    """Return the command that is called, and its options.

    A call that is wrong, or asks for help or the version, is answered and exits.
    """
    if not given:
        return HOME, argparse.Namespace()
    command = COMMANDS.get(given[0])
    if command is None:
        _answer(given)
    return command, parser_of(command).called_with(given[1:])


def _answer(given: Sequence[str]) -> NoReturn:
    """Answer a call that begins with no command, and exit."""
    whole, first = whole_parser(), given[0]
    if first.startswith("-"):
        if whole.parse_known_args(given)[0].command is None:
            whole.called_with(given)
        whole.error("The command comes first, before its options.")
    near = _near([first], list(COMMANDS)) or f" The commands are {join_words(list(COMMANDS))}."
    whole.error(f"Unknown command ‘{one_line(first)}’.{near}")


def parser_of(command: Command) -> CommandParser:
    """Return the parser of one command; loads its module."""
    parser = CommandParser(
        prog=f"coach {command.name}",
        description=f"{command.help.capitalize()}.",
        epilog=f"Example: {command.example}",
    )
    command.load().add_arguments(parser)
    return parser


def whole_parser() -> CommandParser:
    """Return the parser of a call without a command: it lists them and loads none."""
    whole = CommandParser(
        prog="coach",
        description="A coach beside the board: what to cut, which strand knots next, and never a "
        "lost count. Alone, it opens the list of pieces and projects.",
    )
    whole.add_argument("--version", action="version", version=f"coach {__version__}")
    commands = whole.add_subparsers(dest="command", metavar="COMMAND", title="commands")
    for command in COMMANDS.values():
        commands.add_parser(command.name, help=command.help)
    return whole


def _near(words: Sequence[str], known: Sequence[str]) -> str:
    """Return the question whether a known word was meant, "" where none is near."""
    near = [match for word in words for match in get_close_matches(word, known, 1, _ALIKE)]
    return f" Did you mean ‘{near[0]}’?" if near else ""
