"""`coach new FILE`: a few questions, and a commented project file that passes `check`."""

import argparse
import re
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Final, TypeVar

import coach.project
from coach.cli.written import refused
from coach.piece.piece_errors import PieceError
from coach.piece.storage.atomic_write import ANYBODYS_FILE, write_whole
from coach.project.readers.header import KINDS
from coach.project.readers.start import PLACES
from coach.project.template import Answers, DraftCord, draft
from coach.quantities import QuantityError, length_mm
from coach.text import listed, one_line, plain
from coach.yaml_reader.colours import hex_colour

SCHEMA: Final = Path(coach.project.__file__).parent / "format-1.schema.json"
_MOST_PIECES: Final = 40
_NAME: Final = re.compile(r"[^\W\d_][\w -]{0,30}")
Ask = Callable[[str], str]
T = TypeVar("T")


class Unanswerable(ValueError):
    """An answer that cannot be taken; the text says what would be."""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what it can be called with."""
    parser.add_argument("file", metavar="FILE", help="where to write it; it must not be there yet")


def run(options: argparse.Namespace) -> int:
    """Ask and write; 2 if the file exists, cannot be written, or the answers end early."""
    path = Path(options.file)
    name = one_line(options.file)
    if path.suffix not in (".yaml", ".yml"):
        return refused(f"a project file ends in .yaml; try {name}.yaml.")
    if path.exists() or path.is_symlink():
        return refused(f"{name} is there already; choose another name.")
    try:
        answers = ask(_input)
    except EOFError:
        return refused("the answers ended; nothing was written.")
    try:
        text = draft(answers, SCHEMA.resolve().as_uri())
        write_whole(path, text.encode("utf-8"), mode=ANYBODYS_FILE)
    except PieceError as fault:
        return refused(str(fault))
    print(f"\n{name} is written. Next: coach check {name}, or coach check --watch {name}")
    return 0


def _input(question: str) -> str:
    print(question, end=" ", flush=True)
    line = sys.stdin.readline()
    if not line:
        raise EOFError
    return line


def ask(asked: Ask) -> Answers:
    """Ask until everything is answered; an empty answer takes what stands in brackets."""
    title = _until(asked, "What is it called? [Reed strap]", "Reed strap", str)
    kind = _until(asked, f"What sort of thing is it: {listed(KINDS, 'or')}? [keyring]", "keyring",
                  _one_of(KINDS))  # fmt: skip
    on = _until(asked, f"Where does it hang: {listed(PLACES, 'or')}? [ring]", "ring",
                _one_of(PLACES))  # fmt: skip
    first = "The first cord, the outermost one: what do you call it? [reed]"
    cords = [_looks(asked, _until(asked, first, "reed", _cord_name))]
    while len(cords) < 4 and (  # noqa: PLR2004 - more are soon written by hand
        name := _until(asked, "Another cord? Its name, or just enter for no more:", "", _cord_name)
    ):
        if plain(name) in {plain(cord.name) for cord in cords}:
            print(f"  There is a cord {name} already.")
            continue
        cords.append(_looks(asked, name))
    return Answers(title, kind, on, cords)


def _looks(asked: Ask, name: str) -> DraftCord:
    return DraftCord(
        name,
        _until(asked, f"What colour is {name}? [green]", "green", _colour),
        _until(asked, f"How thick is {name}? [2 mm]", "2 mm", _thickness),
        _until(asked, f"How many pieces of {name}? [1]", "1", _pieces),
    )


def _until(asked: Ask, question: str, default: str, read: Callable[[str], T]) -> T:
    while True:
        answer = one_line(asked(question)) or default
        try:
            return read(answer)
        except Unanswerable as error:
            print(f"  {error}")


def _one_of(words: tuple[str, ...]) -> Callable[[str], str]:
    def read(answer: str) -> str:
        if plain(answer) not in words:
            raise Unanswerable(f"One of {listed(words, 'or')}, please.")
        return plain(answer)

    return read


def _cord_name(answer: str) -> str:
    if answer and not _NAME.fullmatch(answer):
        raise Unanswerable("Letters, figures and spaces, a letter first.")
    return answer.strip()


def _colour(answer: str) -> str:
    if hex_colour(answer) is None:
        raise Unanswerable("A colour such as sienna, teal or #5b7f3a, please.")
    return answer


def _thickness(answer: str) -> str:
    try:
        length_mm(answer, zero=False)
    except QuantityError as error:
        raise Unanswerable(f"{error.message} {error.hint}") from error
    return answer


def _pieces(answer: str) -> int:
    if not answer.isascii() or not answer.isdigit() or not 1 <= int(answer) <= _MOST_PIECES:
        raise Unanswerable(f"A number from 1 to {_MOST_PIECES}, please.")
    return int(answer)
