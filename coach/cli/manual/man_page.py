"""The man page from the parsers: `coach manual --man > coach.1`.

Written in the man macros of roff, as man(7) describes them.
"""

from collections.abc import Iterator
from typing import Final

from coach import __version__
from coach.cli.arguments import Call, all_calls
from coach.cli.manual.pages import option_words, usage, value_words
from coach.cli.registry import COMMANDS, whole_parser

_PLACES: Final = (
    ("COACH_HOME", "a folder that holds everything; without it, your system's usual folders do"),
    ("NO_COLOR", "set to anything, and nothing is coloured"),
    ("PAGER", "what long pages of the manual are read with"),
)
_FILES: Final = (
    ("coach.db", "your pieces, in the data folder"),
    ("settings.yaml", "keys, sounds and looks, in the settings folder"),
    ("prices.yaml", "what cord and an hour cost, in the settings folder"),
)
_STATUS: Final = (
    ("0", "done"), ("1", "a file has errors"), ("2", "the call was wrong"),
    ("130", "stopped by ctrl+c"),
)  # fmt: skip


def man_page() -> str:
    """Return the whole page as roff."""
    return "\n".join(_lines()) + "\n"


def _lines() -> Iterator[str]:
    yield f'.TH COACH 1 "" "coach {__version__}" "User Commands"'
    yield from (".SH NAME", _safe("coach - beside the board while you knot"))
    yield from (".SH SYNOPSIS", ".B coach", ".RI [ command \\ [ options ]]")
    yield from (".SH DESCRIPTION", _safe(whole_parser().description or ""))
    yield ".SH COMMANDS"
    for call in all_calls():
        yield from _command(call)
    for title, pairs in (("ENVIRONMENT", _PLACES), ("FILES", _FILES), ("EXIT STATUS", _STATUS)):
        yield f".SH {title}"
        for name, said in pairs:
            yield from _term(name, said)


def _command(call: Call) -> Iterator[str]:
    yield f".SS {_safe(usage(call))}"
    yield _safe(call.help)
    for argument in call.arguments:
        if argument.help:
            yield from _term(value_words(argument), argument.help)
    for option in call.own_options:
        yield from _term(option_words(option), option.help)
    yield from (".PP", "Example:", f".B {_safe(COMMANDS[call.name].example)}")


def _term(name: str, said: str) -> Iterator[str]:
    yield from (".TP", f".B {_safe(name)}", _safe(said))


def _safe(text: str) -> str:
    """Return text escaped for roff: no requests, hyphens that can be typed."""
    shown = text.replace("\\", "\\e").replace("-", "\\-").replace("'", "\\(aq")
    typed = "".join(c if c.isascii() else f"\\[u{ord(c):04X}]" for c in shown)
    return f"\\&{typed}" if typed.startswith(".") else typed
