"""The reader of the finished size and of what its maker measured."""

from dataclasses import replace
from types import MappingProxyType
from typing import Final

from coach.knots.names import KNOTS
from coach.project.model import MeasuredPart, Size, Swatch
from coach.project.readers.common_keys import CORD, LONG, PART, TIMES_MADE, VARIED
from coach.project.readers.rows import knot_name, knots_schema
from coach.yaml_reader.collector import ReadingProblems
from coach.yaml_reader.declarations import Key, Keys, OneOf, Value, may, must
from coach.yaml_reader.expected import report_other
from coach.yaml_reader.mapping_reader import Fields
from coach.yaml_reader.mapping_schema import mapping, some_of
from coach.yaml_reader.nodes import Mapping, Node, Sequence
from coach.yaml_reader.scalars import LENGTH, THICKNESS, choice, whole_number, word

_STATES: Final = ("pinned", "relaxed", "loaded", "washed")

Measured = MeasuredPart | Swatch


def _keys(node: Node, found: ReadingProblems, what: str) -> Fields | None:
    if isinstance(node, Mapping) and node.pairs:
        return Fields(node, found, what)
    message = f"{what[0].upper()}{what[1:]} is described by its keys."
    report_other(node, found, message, "Write ‘key: value’, each on a line.")
    return None


_SIZED: Final[Keys] = {
    "length_mm": LONG,
    "wish_mm": may("wish", THICKNESS, "A length not yet made; repeats are chosen for it."),
    "state": may("state", choice(_STATES), "pinned, relaxed, loaded or washed."),
    "vary": may("vary", VARIED, "The part or named step that changes with the size."),
    "least": may("least", whole_number(), "The fewest repeats."),
    "step": may("step", whole_number(), "By how many the repeats go up."),
    "closing_mm": may("closing", LENGTH, "Of the length, what does not go round the body."),
}


def _size(node: Node, found: ReadingProblems) -> Size | None:
    fields = _keys(node, found, "the size")
    if fields is None:
        return None
    size = Size(fields.span(), **fields.given(_SIZED))
    fields.finish()
    return size


SIZE: Final[Key[Size | None]] = may(
    "size",
    Value(_size, None, {**mapping(_SIZED.values()), "minProperties": 1}),
    "The finished size and what may be varied to change it.",
)


def _measured(node: Node, found: ReadingProblems) -> tuple[Measured, ...] | None:
    if isinstance(node, Sequence):
        entries = [_entry(item, found) for item in node.items]
        return tuple(entry for entry in entries if entry)
    hint = "Write ‘- {part: …, length: …}’, each on its own line."
    report_other(node, found, "A list is needed here.", hint)
    return None


def _entry(node: Node, found: ReadingProblems) -> Measured | None:
    fields = _keys(node, found, "a measured entry")
    if fields is None:
        return None
    which = fields.one_of(_WHAT)
    entry: Measured | None = None
    if which is _A_PART:
        entry = MeasuredPart(fields.span("part"), **fields.given(_PART))
    elif which is _A_SWATCH:
        entry = Swatch(fields.span("knot"), **fields.given(_SWATCH))
    else:
        fields.ignore(_USES.name)  # a length or a mapping, by what is measured
        for key in (_LENGTH, _CORD, TIMES_MADE):
            fields.take(key, None)
    if entry:
        fields.some_of(_USES, _LENGTH)
    fields.finish()
    return None if fields.bad else entry


def _uses(node: Node, found: ReadingProblems) -> MappingProxyType[str, float] | None:
    if not isinstance(node, Mapping):
        hint = f"Write ‘uses: {{{found.a_cord}: 9 cm}}’."
        found.error("SHAPE", node.span, "What is used is listed by cord.", hint)
        return None
    read = [(CORD.read(key, found), LENGTH.read(mm, found)) for key, mm in node.pairs]
    uses = {name: mm for name, mm in read if name is not None and mm is not None}
    return MappingProxyType(uses) if len(uses) == len(read) else None


def _knot(node: Node, found: ReadingProblems) -> str | None:
    scalar = word(node, found, "a knot")
    return None if scalar is None else knot_name(scalar, found, in_row=True)


_SAID_OF_USE: Final = "Cord used: per strand and cord for a part, of the cord for a swatch."
_USES: Final = may("uses", LENGTH, _SAID_OF_USE, "26 cm")
_BY_CORD: Final = {"type": "object", "additionalProperties": LENGTH.schema}
_USES_BY_CORD: Final[Key[MappingProxyType[str, float]]] = may(
    _USES.name, Value(_uses, MappingProxyType({}), _BY_CORD), _USES.said, _USES.example
)
_LENGTH: Final = may("length", LENGTH, LONG.said, LONG.example)
_CORD: Final = must("cord", CORD, "The cord of a swatch.", lambda found: found.a_cord)
_A_PART: Final = must(
    "part", PART, "The part that was measured, one repeat of it.", lambda found: found.a_part
)
_A_SWATCH: Final = must(
    "knot",
    Value(_knot, "", knots_schema(KNOTS, in_row=True)),
    "The knot of a swatch.",
    "clove hitch",
)
_WHAT: Final = OneOf((_A_PART, _A_SWATCH))
_PART: Final[Keys] = {"part": _A_PART, "length_mm": _LENGTH, "uses_mm": _USES_BY_CORD}
_SWATCH: Final[Keys] = {
    "knot": _A_SWATCH,
    "cord": _CORD,
    "times": replace(TIMES_MADE, needed=True),
    "uses_mm": _USES,
    "length_mm": _LENGTH,
}
_ENTRIES: Final = [some_of(mapping(keys.values()), _USES, _LENGTH) for keys in (_PART, _SWATCH)]
MEASURED: Final[Key[tuple[Measured, ...]]] = may(
    "measured",
    Value(_measured, (), {"type": "array", "items": {"anyOf": _ENTRIES}}),
    "What you measured on your own work; it is used instead of the coach's figures.",
)
SIZE_KEYS: Final = tuple(_SIZED.values())
MEASURED_KEYS: Final = (_WHAT, _CORD, TIMES_MADE, _USES, _LENGTH)
