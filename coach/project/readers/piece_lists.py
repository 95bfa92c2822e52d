"""Readers of lists of pieces and strands of cords, and of the ways to hang them."""

import re
from functools import partial
from typing import Final

from coach.knots.names import (
    LARKS_HEAD,
    REVERSE_LARKS_HEAD,
    ROW_SYNONYMS,
    SYNONYMS,
    first_name,
)
from coach.project.model import ListedPiece
from coach.project.readers.common_keys import CORD
from coach.project.readers.cords import MOST_PIECES
from coach.text import join_words, normalized_name
from coach.yaml_reader.collector import ReadingProblems, quoted
from coach.yaml_reader.declarations import Value
from coach.yaml_reader.nodes import Node, Scalar, Sequence
from coach.yaml_reader.scalars import choice, word
from coach.yaml_reader.value_schemas import list_schema, pattern_schema, words_schema

WAYS: Final = (LARKS_HEAD, REVERSE_LARKS_HEAD, "looped through", "pinned")

_PIECE = re.compile(r"(?:([0-9]{1,9})\s+)?([^.]{1,60})(?:\.([0-9]{1,9}))?")
_STRAND = re.compile(r"([^.]{1,60})\.([0-9]{1,9})([ab])")


def _pieces(
    node: Node, found: ReadingProblems, *, numbered: bool = False
) -> tuple[ListedPiece, ...] | None:
    items = node.items if isinstance(node, Sequence) else (node,)
    hung: list[ListedPiece] = []
    sound = bool(items)
    if not items:
        hint = f"Write ‘{found.some_pieces}’."
        found.error("EMPTY", node.span, "No piece is listed here.", hint)
    for item in items:
        some = _some(item, found, numbered=numbered)
        sound = sound and some is not None
        hung.extend(some or ())
        if len(hung) > MOST_PIECES:
            message = f"More than {MOST_PIECES} pieces are listed."
            found.error("TOO-LARGE", node.span, message, "List fewer.")
            return None
    return tuple(hung) if sound else None


def _some(item: Node, found: ReadingProblems, *, numbered: bool) -> tuple[ListedPiece, ...] | None:
    """Read one entry of a list of pieces, `2 clay` or `clay.1`."""
    scalar = word(item, found, "the name of a cord")
    if scalar is None:
        return None
    match = _PIECE.fullmatch(scalar.text.strip())
    if match is None or (match[3] and not numbered):
        cord = found.a_cord
        forms = [cord, f"2 {cord}", *([f"{cord}.1"] if numbered else [])]
        hint = f"Write {join_words(list(map(quoted, forms)), 'or')}."
        found.error("NAME", scalar.span, f"{quoted(scalar.text)} does not name a piece.", hint)
        return None
    count = int(match[1] or 1)
    if not 1 <= count <= MOST_PIECES:
        message = f"{count} pieces cannot be listed."
        found.error("NUMBER", scalar.span, message, f"Give a number from 1 to {MOST_PIECES}.")
        return None
    name = CORD.read(Scalar(scalar.span, match[2]), found)
    if name is None:
        return None
    return (ListedPiece(name, scalar.span, int(match[3]) if match[3] else None),) * count


def _strands(node: Node, found: ReadingProblems) -> tuple[str, ...] | None:
    items = node.items if isinstance(node, Sequence) else (node,)
    read = [_strand(item, found) for item in items]
    if not items:
        hint = f"Write ‘{found.a_cord}.1a’."
        found.error("EMPTY", node.span, "No strand is named here.", hint)
    return tuple(name for name in read if name) if items and all(read) else None


def _strand(item: Node, found: ReadingProblems) -> str | None:
    scalar = word(item, found, "the name of a strand")
    if scalar is None:
        return None
    match = _STRAND.fullmatch(normalized_name(scalar.text))
    if match is None:
        hint = f"Name cord, piece and end, as in ‘{found.a_cord}.1a’."
        found.error("NAME", scalar.span, f"{quoted(scalar.text)} does not name a strand.", hint)
        return None
    name = CORD.read(Scalar(scalar.span, match[1]), found)
    if name is None:
        return None
    most = found.pieces[name]
    if int(match[2]) < 1 or (most is not None and int(match[2]) > most):
        message = f"There is no piece {int(match[2])} of {name}."
        found.error("PIECES", scalar.span, message, "Pieces are counted from 1.")
        return None
    return f"{name}.{int(match[2])}{match[3]}"


_PIECE_SHAPE: Final = r"\s*(?:[0-9]{1,9}\s+)?[^.]{1,60}"
PIECES: Final[Value[tuple[ListedPiece, ...]]] = Value(
    _pieces, (), list_schema(pattern_schema(rf"{_PIECE_SHAPE}\s*"))
)
"""A list such as `[reed, 2 clay]`."""
NUMBERED_PIECES: Final[Value[tuple[ListedPiece, ...]]] = Value(
    partial(_pieces, numbered=True),
    (),
    list_schema(pattern_schema(rf"{_PIECE_SHAPE}(?:\.[0-9]{{1,9}})?\s*")),
)
"""A list such as `[reed.1, clay.2]`."""
NAMED_STRANDS: Final[Value[tuple[str, ...]]] = Value(
    _strands, (), list_schema(pattern_schema(r"[^.]{1,60}\.[0-9]{1,9}[abAB]\s*"))
)
"""Names of single strands, `reed.1a` or a list of them."""


HUNG_BY: Final = "How the pieces are hung."


def read_hanging_method(*more: str) -> Value[str]:
    """Return a reader of how pieces are hung, which accepts a knot's other names.

    Args:
        more: Ways beside those in `WAYS`.
    """
    ways = (*WAYS, *more)
    plainly = choice(ways)
    others = [other for other, knot in (SYNONYMS | ROW_SYNONYMS).items() if knot in WAYS]

    def read(node: Node, found: ReadingProblems) -> str | None:
        if isinstance(node, Scalar) and first_name(node.text, in_row=True) in ways:
            return first_name(node.text, in_row=True)
        return plainly.read(node, found)

    return Value(read, "", words_schema([*WAYS, *others, *more]))
