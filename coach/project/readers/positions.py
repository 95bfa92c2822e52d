"""Readers of positions and groups: `5`, `4-6`, `6-4`, `[1, 3-4]`, `all`, `1-16 by 4`."""

import re
from collections.abc import Iterable
from functools import lru_cache
from typing import Final

from coach.project.model import Groups, Positions
from coach.text import normalized_name
from coach.yaml_reader.collector import ReadingProblems, quoted
from coach.yaml_reader.declarations import Schema, Value
from coach.yaml_reader.diagnostics import Span
from coach.yaml_reader.nodes import Node, Scalar, Sequence
from coach.yaml_reader.scalars import word
from coach.yaml_reader.value_schemas import pattern_schema, words_schema

MOST_POSITIONS: Final = 5_000  # in one list, and as a position

_RANGE = re.compile(r"([0-9]{1,30})(?:\s*[-\u2013]\s*([0-9]{1,30}))?")
_BY = re.compile(r"(.*\S)\s+by\s+([0-9]{1,30})", re.IGNORECASE)
_NOWHERE: Final = Positions(Span())
_NO_GROUPS: Final = Groups(Span(), ())
_AS_POSITIONS: Final = "Write ‘5’, ‘4-6’, ‘[1, 3, 4]’ or ‘all’."
_AS_GROUPS: Final = "Write ‘1-16 by 4’ or a list such as ‘[1-4, 5-8]’."


def _ends(scalar: Scalar, text: str, found: ReadingProblems, hint: str) -> tuple[int, int] | None:
    """Return first and last position of `4-6` or `5`, checked before a list is built of them."""
    ends = _range(text) if len(text) < 100 else None  # noqa: PLR2004 - no range is longer
    if ends is None:
        found.error("POSITION", scalar.span, f"{quoted(text)} is not a position.", hint)
        return None
    first, last = ends
    if min(first, last) < 1:
        message = "There is no position 0."
        found.error("POSITION", scalar.span, message, "Count from 1 at the left.")
        return None
    if max(first, last) > MOST_POSITIONS:
        message = f"{quoted(text)} goes beyond position {MOST_POSITIONS}."
        found.error("POSITION", scalar.span, message, "Count from 1 at the left.")
        return None
    return ends if found.room_for(abs(last - first) + 1, scalar.span) else None


@lru_cache(maxsize=256)  # a file names the same few strands over and over
def _range(text: str) -> tuple[int, int] | None:
    match = _RANGE.fullmatch(text.strip())
    return (int(match[1]), int(match[2] or match[1])) if match else None


@lru_cache(maxsize=32)
def _run(ends: tuple[int, int]) -> tuple[int, ...]:
    first, last = ends
    way = 1 if first <= last else -1
    return tuple(range(first, last + way, way))


def _positions(node: Node, found: ReadingProblems) -> Positions | None:
    if isinstance(node, Sequence):
        return _listed(node, found)
    scalar = word(node, found, "a position")
    if scalar is None:
        return None
    if normalized_name(scalar.text) == "all":
        return Positions(scalar.span, everything=True)
    hint = f"Write ‘[{scalar.text.strip()}]’." if "," in scalar.text[:60] else _AS_POSITIONS
    ends = _ends(scalar, scalar.text, found, hint)
    return Positions(scalar.span, _run(ends)) if ends else None


def _listed(node: Sequence, found: ReadingProblems) -> Positions | None:
    items: list[int] = []
    for item in node.items:
        scalar = word(item, found, "a position")
        ends = scalar and _ends(scalar, scalar.text, found, _AS_POSITIONS)
        if not ends:
            return None
        items.extend(_run(ends))
        if len(items) > MOST_POSITIONS:
            message = f"More than {MOST_POSITIONS} positions are listed."
            found.error("POSITION", node.span, message, "Use groups or a part.")
            return None
    if not items:
        found.error("POSITION", node.span, "This list of positions is empty.", _AS_POSITIONS)
        return None
    twice = _first_twice(items)
    if twice:
        message = f"Position {twice} is listed twice."
        found.error("POSITION", node.span, message, "Name each strand once.")
        return None
    return Positions(node.span, tuple(items))


def _first_twice(items: Iterable[int]) -> int:
    seen: set[int] = set()
    for item in items:
        if item in seen:
            return item
        seen.add(item)
    return 0


def _single(node: Node, found: ReadingProblems) -> Positions | None:
    got = _positions(node, found)
    if got is None or len(got.items) == 1:
        return got
    found.error("POSITION", got.span, "One strand is needed here.", "Give one position, as in ‘5’.")
    return None


def _groups(node: Node, found: ReadingProblems) -> Groups | None:
    if isinstance(node, Sequence):
        members = [_positions(item, found) for item in node.items]
        read = tuple(member for member in members if member)
        if len(read) < len(members):
            return None
        return _apart(Groups(node.span, read), found)
    scalar = word(node, found, "groups")
    if scalar is None:
        return None
    match = _BY.fullmatch(scalar.text.strip()) if len(scalar.text) < 100 else None  # noqa: PLR2004 - no range is longer
    if match is None:
        message = f"{quoted(scalar.text)} does not say how many strands a group has."
        found.error("GROUPS", scalar.span, message, _AS_GROUPS)
        return None
    ends = _ends(scalar, match[1], found, _AS_GROUPS)
    return _cut(scalar, ends, int(match[2]), found) if ends else None


def _cut(scalar: Scalar, ends: tuple[int, int], by: int, found: ReadingProblems) -> Groups | None:
    run = _run(ends)
    if by < 1 or len(run) % by:
        message = f"{len(run)} strands cannot be grouped by {by}."
        near = [n for n in range(2, len(run) + 1) if len(run) % n == 0]
        closest = min(near, key=lambda n: abs(n - by), default=1)
        hint = f"‘{run[0]}-{run[-1]} by {closest}’ would come out even."
        found.error("GROUPS", scalar.span, message, hint)
        return None
    span = scalar.span
    return Groups(span, tuple([Positions(span, cut) for cut in _cuts(ends, by)]))


@lru_cache(maxsize=32)
def _cuts(ends: tuple[int, int], by: int) -> tuple[tuple[int, ...], ...]:
    run = _run(ends)
    return tuple(run[at : at + by] for at in range(0, len(run), by))


def _apart(groups: Groups, found: ReadingProblems) -> Groups | None:
    """Return the groups if no two of them share a strand, else report it."""
    if not groups.members:
        found.error("GROUPS", groups.span, "This list of groups is empty.", _AS_GROUPS)
        return None
    if len(groups.members) > 1 and any(member.everything for member in groups.members):
        message = "A group of all strands leaves none for another group."
        found.error("GROUPS", groups.span, message, _AS_GROUPS)
        return None
    shared = _first_twice(item for member in groups.members for item in member.items)
    if shared:
        message = f"Position {shared} is in two groups."
        found.error("GROUPS", groups.span, message, "Put each strand in one group only.")
        return None
    return groups


def _one_group(node: Node, found: ReadingProblems) -> Groups | None:
    strands = _positions(node, found)
    return Groups(strands.span, (strands,)) if strands else None


A_PLACE: Final[Schema] = {"type": "integer", "minimum": 1, "maximum": MOST_POSITIONS}
RUN: Final = r"\s*0*[1-9][0-9]{0,3}(?:\s*[-\u2013]\s*0*[1-9][0-9]{0,3})?\s*"
"""The pattern of `5` or `4-6`."""
_PLACES: Final[Schema] = {"anyOf": [A_PLACE, pattern_schema(RUN)]}
_SINGLE: Final[Schema] = {
    "anyOf": [
        A_PLACE,
        pattern_schema(r"\s*0*[1-9][0-9]{0,3}\s*"),
        {"type": "array", "items": A_PLACE, "minItems": 1, "maxItems": 1},
    ]
}
_SEVERAL: Final[Schema] = {
    "anyOf": [_PLACES, words_schema(("all",)), {"type": "array", "items": _PLACES, "minItems": 1}]
}
_IN_GROUPS: Final[Schema] = {
    "anyOf": [
        pattern_schema(rf"{RUN}\s+[bB][yY]\s+0*[1-9][0-9]*\s*"),
        {"type": "array", "items": _SEVERAL, "minItems": 1},
    ]
}
POSITIONS: Final = Value(_positions, _NOWHERE, _SEVERAL)
POSITION: Final = Value(_single, _NOWHERE, _SINGLE)
GROUPS: Final = Value(_groups, _NO_GROUPS, _IN_GROUPS)
ONE_GROUP: Final = Value(_one_group, _NO_GROUPS, _SEVERAL)
"""Positions that are one group."""
