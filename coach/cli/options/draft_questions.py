"""The questions about a new piece; those that options have answered are not asked."""

import argparse
import re
from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import Final, TypeVar

from coach.cli.options.draft_fitting import fit_width
from coach.project.drafts.answers import FIRST, Answers, DraftCord
from coach.project.drafts.designs import DESIGNS, Design
from coach.project.drafts.motifs import MOTIFS
from coach.quantities import QuantityError, length_mm
from coach.text import join_words, normalized_name, one_line
from coach.yaml_reader.colours import hex_colour

Ask = Callable[[str], str]
T = TypeVar("T")

_MOST_STRANDS: Final = 200
_MOST_CORDS: Final = 4  # more are soon written by hand
_NAME: Final = re.compile(r"[^\W\d_][\w -]{0,30}")
_KINDS: Final = {"plant hanger": "hanger"}
"""What a kind is called in a file, where that is not what it is asked for by."""


class Unanswerable(ValueError):
    """An answer that cannot be used; the text says what could be."""


def add_answers(parser: argparse.ArgumentParser) -> None:
    """Add an option for each question."""
    parser.add_argument("--kind", help=f"what it is: {join_words(tuple(DESIGNS), 'or')}")
    parser.add_argument("--title", help="what it is called")
    parser.add_argument("--hang", metavar="PLACE", help="what it hangs on, such as ring or dowel")
    parser.add_argument(
        "--cord",
        action="append",
        metavar="'NAME, COLOUR, THICKNESS'",
        help="one cord, as in 'reed, sienna, 2 mm'; once for each",
    )
    size = parser.add_mutually_exclusive_group()
    size.add_argument("--strands", metavar="NUMBER", help="how many strands hang")
    size.add_argument("--width", help="how wide it is to be, as in '4 cm'")
    parser.add_argument("--length", help="how long it is to be, as in '18 cm'")
    parser.add_argument(
        "--knots", metavar="KNOTS", help="your favourites, as in 'square knot, plait'"
    )
    parser.add_argument(
        "--usual", action="store_true", help="take what is usual for all else, and ask nothing"
    )


class Questions:
    """Asks what options have not answered; an empty answer takes the default in brackets."""

    def __init__(self, options: argparse.Namespace, asked: Ask) -> None:
        """Set the options of the command, and the function that asks."""
        self._options = options
        self._asked = asked

    def answers(self) -> Answers:
        """Return all answers. Raises Unanswerable for a bad option."""
        kinds = tuple(DESIGNS)
        kind = self._one("kind", f"What is it: {join_words(kinds, 'or')}?", "keyring", _kind)
        design = DESIGNS[kind]
        title = self._one("title", "What is it called?", design.title, str)
        places = join_words(design.places, "or")
        asked = f"What does it hang on: {places}?"
        on = self._one("hang", asked, design.on, _one_of(design.places))
        cords = self._cords(design)
        length = self._one("length", "How long is it to be?", design.length, _length)
        favourites = f"Your favourite knots: {join_words(tuple(MOTIFS), 'or')}?"
        knots = self._one("knots", favourites, ", ".join(design.knots), _knots)
        wide = self._one(self._wide(), "How many strands, or how wide?", str(design.strands), _wide)
        answers = Answers(title, kind, on, cords, design.strands, length, knots)
        answers = _with_width(answers, design, wide)
        most = 2 if design.alike else answers.strands // 2
        return replace(answers, cords=cords[:most])

    def _wide(self) -> str:
        return "width" if getattr(self._options, "width", None) else "strands"

    def _one(self, name: str, question: str, usual: str, read: Callable[[str], T]) -> T:
        """Return the value of an option, or the answer to its question."""
        said = getattr(self._options, name, None)
        if said is not None:
            return read(one_line(said))
        if getattr(self._options, "usual", False):
            return read(usual)
        while True:
            told = f"{question} [{usual}]" if usual else question
            answer = one_line(self._asked(told)) or usual
            try:
                return read(answer)
            except Unanswerable as error:
                print(f"  {error}")

    def _cords(self, design: Design) -> list[DraftCord]:
        said: Sequence[str] | None = getattr(self._options, "cord", None)
        if said:
            cords = [_cord(one_line(one), design) for one in said]
            twice = len({normalized_name(cord.name) for cord in cords}) < len(cords)
            if twice:
                raise Unanswerable("Two cords have one name; give each its own.")
            return cords[:_MOST_CORDS]
        if getattr(self._options, "usual", False):
            return [DraftCord(FIRST.name, FIRST.colour, design.thick)]
        usual = f"{FIRST.name}, green, {design.thick}"
        first = "A cord: its name, colour and thickness?"
        cords = [self._one("", first, usual, lambda text: _cord(text, design))]
        while len(cords) < _MOST_CORDS:
            another = self._one("", "Another cord, or just enter for no more?", "",
                                lambda text: _another(text, design, cords))  # fmt: skip
            if another is None:
                break
            cords.append(another)
        return cords


def _kind(answer: str) -> str:
    return _one_of(tuple(DESIGNS))(_KINDS.get(normalized_name(answer), answer))


def _one_of(words: tuple[str, ...]) -> Callable[[str], str]:
    def read(answer: str) -> str:
        if normalized_name(answer) not in words:
            raise Unanswerable(f"One of {join_words(words, 'or')}, please.")
        return normalized_name(answer)

    return read


def _another(text: str, design: Design, cords: Sequence[DraftCord]) -> DraftCord | None:
    if not text:
        return None
    cord = _cord(text, design)
    if normalized_name(cord.name) in {normalized_name(one.name) for one in cords}:
        raise Unanswerable(f"There is a cord {cord.name} already.")
    return cord


def _cord(answer: str, design: Design) -> DraftCord:
    """Read `reed, sienna, 2 mm`; colour and thickness may be left out."""
    name, colour, thick, *rest = [*(part.strip() for part in answer.split(",")), "", ""]
    if not _NAME.fullmatch(name):
        raise Unanswerable("A name of letters, figures and spaces, a letter first: reed.")
    if colour and hex_colour(colour) is None:
        raise Unanswerable("A colour such as sienna, teal or #5b7f3a, please.")
    if any(rest):
        raise Unanswerable("Name, colour and thickness, with commas: reed, sienna, 2 mm.")
    return DraftCord(name, colour or FIRST.colour, _length(thick) if thick else design.thick)


def _length(answer: str) -> str:
    try:
        length_mm(answer, zero=False)
    except QuantityError as error:
        raise Unanswerable(f"{error.message} {error.hint}") from error
    return answer


def _knots(answer: str) -> tuple[str, ...]:
    found = tuple(dict.fromkeys(normalized_name(one) for one in answer.split(",") if one.strip()))
    unknown = [one for one in found if one not in MOTIFS]
    if unknown or not found:
        raise Unanswerable(f"Some of {join_words(tuple(MOTIFS), 'or')}, with commas, please.")
    return found


def _wide(answer: str) -> int | float:
    """Read a number of strands, or a width in mm."""
    if answer.isascii() and answer.isdigit():
        if not 1 <= int(answer) <= _MOST_STRANDS:
            raise Unanswerable(f"From 1 to {_MOST_STRANDS} strands, or a width such as 4 cm.")
        return int(answer)
    return length_mm(_length(answer))


def _with_width(answers: Answers, design: Design, wide: float) -> Answers:
    """Return the answers with the strands asked for, or as many as come to a width."""
    if isinstance(wide, int):
        strands = design.strands_near(wide)
        if strands != wide:
            what = "piece" if answers.kind == "other" else answers.kind
            said = f"{strands} strands: a {what} goes up in steps of {design.unit}"
            print(f"  {said}, from {design.least}.")
        return replace(answers, strands=strands)
    return fit_width(answers, wide)
