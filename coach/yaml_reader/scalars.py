"""Readers of words, numbers, quantities and colours; each reports what it cannot read."""

import re
from collections.abc import Callable
from functools import cache
from typing import Final, TypeVar

from coach import quantities
from coach.text import clean, join_words, normalized_name, one_line
from coach.yaml_reader import value_schemas as schemas
from coach.yaml_reader.collector import Names, ReadingProblems, quoted
from coach.yaml_reader.colours import NAMED, hex_colour
from coach.yaml_reader.declarations import Value
from coach.yaml_reader.nodes import Mapping, Node, Scalar, Sequence

T = TypeVar("T")
C = TypeVar("C", bound=str)

MOST: Final = 10**12
_WHOLE = re.compile(r"[0-9]{1,30}")
_BOOLEANS: Final = {"yes": True, "true": True, "no": False, "false": False}


def word(node: Node, found: ReadingProblems, wanted: str = "a word") -> Scalar | None:
    """Return a node that is a scalar and not empty, or report it.

    Args:
        node: What stands there.
        found: Collects problems.
        wanted: What is needed, with its article: a length.
    """
    if not isinstance(node, Scalar):
        shape = "list" if isinstance(node, Sequence) else "mapping"
        found.error("SHAPE", node.span, f"This needs {wanted}, not a {shape}.")
        return None
    if node.broken:
        return None
    if not node.text.strip():
        hint = f"Write {wanted} here, or leave the key out."
        found.error("EMPTY", node.span, "Nothing is written here.", hint)
        return None
    return node


def _text(node: Node, found: ReadingProblems) -> str | None:
    scalar = _words(node, found)
    return None if scalar is None else one_line(scalar.text)


def _lines(node: Node, found: ReadingProblems) -> str | None:
    scalar = _words(node, found)
    return None if scalar is None else clean(scalar.text).strip()


def _words(node: Node, found: ReadingProblems) -> Scalar | None:
    """Return a text that is not too long to be shown, or report it."""
    scalar = word(node, found, "a text")
    if scalar is None or len(scalar.text) <= schemas.MOST_LETTERS:
        return scalar
    most, letters = f"{schemas.MOST_LETTERS:,}", f"{len(scalar.text):,}"
    message = f"A text has at most {most} letters; this one has {letters}."
    hint = "Shorten it, or keep it in a file beside this one."
    found.error("TOO-LARGE", scalar.span, message, hint)
    return None


def _texts(node: Node, found: ReadingProblems) -> tuple[str, ...] | None:
    if isinstance(node, Mapping):
        hint = "Write it as in ‘[scissors, board]’; quote a text with ‘: ’ in it."
        found.error("SHAPE", node.span, "This needs a list of texts, not a mapping.", hint)
        return None
    items = node.items if isinstance(node, Sequence) else (node,)
    read = [_text(item, found) for item in items]
    return tuple(text for text in read if text) if all(read) else None


def _colour(node: Node, found: ReadingProblems) -> tuple[str, str] | None:
    scalar = word(node, found, "a colour")
    if scalar is None:
        return None
    colour = hex_colour(scalar.text)
    if colour is None:
        otherwise = 'Write it as "#5b7f3a", with the quotes, or by a CSS name such as sienna.'
        hint = found.suggest(scalar.text, NAMED, otherwise)
        found.error("COLOUR", scalar.span, f"Unknown colour {quoted(scalar.text)}.", hint)
        return None
    return colour, one_line(scalar.text)


def _boolean(node: Node, found: ReadingProblems) -> bool | None:
    scalar = word(node, found, "yes or no")
    if scalar is None:
        return None
    if normalized_name(scalar.text) not in _BOOLEANS:
        message = f"{quoted(scalar.text)} is neither yes nor no."
        found.error("CHOICE", scalar.span, message, "Write yes or no.")
    return _BOOLEANS.get(normalized_name(scalar.text))


def _quantity(read: Callable[[str], T], wanted: str) -> Callable[[Node, ReadingProblems], T | None]:
    def reader(node: Node, found: ReadingProblems) -> T | None:
        scalar = word(node, found, wanted)
        if scalar is None:
            return None
        try:
            return read(scalar.text)
        except quantities.QuantityError as fault:
            message = f"{quoted(scalar.text)}: {fault.message}"
            found.error("QUANTITY", scalar.span, message, fault.hint)
            return None

    return reader


def _thickness_mm(text: str) -> float:
    return quantities.length_mm(text, zero=False)


TEXT: Final = Value(_text, "", schemas.TEXT)
LINES: Final = Value(_lines, "", schemas.TEXT)
TEXTS: Final[Value[tuple[str, ...]]] = Value(_texts, (), schemas.TEXTS)
COLOUR: Final = Value(_colour, ("#808080", ""), schemas.COLOUR)
BOOLEAN: Final = Value(_boolean, False, schemas.BOOLEAN)  # noqa: FBT003 - it is what stands in
LENGTH: Final = Value(_quantity(quantities.length_mm, "a length"), 0.0, schemas.LENGTH)
THICKNESS: Final = Value(_quantity(_thickness_mm, "a length"), 1.0, schemas.THICKNESS)
TIME: Final = Value(_quantity(quantities.time_s, "a time"), 0.0, schemas.TIME)
TIMES: Final = Value(_quantity(quantities.time_range_s, "a time"), (0.0, 0.0), schemas.TIMES)
FINENESS: Final = Value(
    _quantity(quantities.fineness_tex, "a weight per length"), 0.0, schemas.FINENESS
)
SHARE: Final = Value(_quantity(quantities.share, "a share"), 0.1, schemas.SHARE)
SLOPE: Final = Value(_quantity(quantities.angle_deg, "a slope"), 45.0, schemas.SLOPE)


@cache
def whole_number(least: int = 1, most: int = MOST) -> Value[int]:
    """Return a reader of whole numbers from `least` to `most`."""

    def reader(node: Node, found: ReadingProblems) -> int | None:
        scalar = word(node, found, "a whole number")
        if scalar is None:
            return None
        text = scalar.text.strip()
        number = int(text) if _WHOLE.fullmatch(text) else None
        if number is not None and least <= number <= most:
            return number
        message = f"{quoted(text)} is not a whole number."
        if number is not None:
            message = f"{quoted(text)} is too {'small' if number < least else 'large'}."
        hint = f"Write a number from {least} {'up' if most == MOST else f'to {most}'}."
        found.error("NUMBER", scalar.span, message, hint)
        return None

    return Value(reader, least, schemas.whole_number_schema(least, None if most == MOST else most))


def choice(options: tuple[C, ...]) -> Value[C]:
    """Return a reader of one of some words, compared as names are."""
    known = {normalized_name(option): option for option in options}
    any_of = join_words(options, "or")

    def reader(node: Node, found: ReadingProblems) -> C | None:
        scalar = word(node, found, f"one of {any_of}")
        if scalar is None:
            return None
        if normalized_name(scalar.text) not in known:
            hint = found.suggest(normalized_name(scalar.text), known, f"Write {any_of}.")
            found.error(
                "CHOICE", scalar.span, f"{quoted(scalar.text)} is not one of the choices.", hint
            )
        return known.get(normalized_name(scalar.text))

    return Value(reader, options[0], schemas.words_schema(options))


def own_name(
    names_of: Callable[[ReadingProblems], Names | None], code: str, what: str
) -> Value[str]:
    """Return a reader of one of the maker's own names, which returns it as first written.

    Args:
        names_of: Return the file's names of that kind; None where they could not be read. That was
            reported then, so a name that cannot be looked up is no problem of its own.
        code: The code of the problem that there is no such name.
        what: The kind of thing, as in "cord".
    """

    def reader(node: Node, found: ReadingProblems) -> str | None:
        names = names_of(found)
        scalar = None if names is None else word(node, found, f"the name of a {what}")
        if names is None or scalar is None:
            return None
        name = names.find(scalar.text)
        if name is None:
            otherwise = f"The file has {join_words(names.written[:12])}." if names.written else ""
            hint = found.suggest(normalized_name(scalar.text), names.plain, otherwise)
            found.error(code, scalar.span, f"There is no {what} {quoted(scalar.text)}.", hint)
        return name

    return Value(reader, "", schemas.TEXT)
