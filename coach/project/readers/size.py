"""The finished size, and what its maker has measured."""

from types import MappingProxyType
from typing import Final

from coach.project.model import MeasuredPart, Size, Swatch
from coach.project.readers.references import UNSAYABLE, Known
from coach.project.readers.rows import knot_name
from coach.yaml_reader.collector import Found
from coach.yaml_reader.mapping_reader import Fields, Value
from coach.yaml_reader.nodes import Mapping, Node, Scalar, Sequence
from coach.yaml_reader.scalars import LENGTH, THICKNESS, choice, named, whole, word

STATES: Final = ("pinned", "relaxed", "loaded", "washed")

Measured = MeasuredPart | Swatch


def _keys(node: Node, found: Found, what: str) -> Fields | None:
    if isinstance(node, Mapping) and node.pairs:
        return Fields(node, found, what)
    if not (isinstance(node, Scalar) and node.broken):
        message = f"{what[0].upper()}{what[1:]} is described by its keys."
        found.error("SHAPE", node.span, message, "Write ‘key: value’, each on a line.")
    return None


def size(names: tuple[str, ...] | None) -> Value[Size | None]:
    """Read `size:`; `names` are the parts and named steps that may be varied, if known."""
    vary = UNSAYABLE if names is None else named(names, "PART", "part or step")

    def read(node: Node, found: Found) -> Size | None:
        fields = _keys(node, found, "the size")
        if fields is None:
            return None
        got = Size(
            fields.span(),
            fields.get("length", THICKNESS, None),
            fields.get("state", choice(STATES), "relaxed"),
            fields.get("vary", vary, ""),
            fields.get("least", whole(), 1),
            fields.get("step", whole(), 1),
            fields.get("closing", LENGTH, 0.0),
            fields.get("wish", THICKNESS, None),
        )
        fields.finish()
        return got

    return Value(read, None)


def measured(known: Known) -> Value[tuple[Measured, ...]]:
    """Read `measured:`, a list of parts and swatches that were measured."""

    def read(node: Node, found: Found) -> tuple[Measured, ...] | None:
        if isinstance(node, Sequence):
            entries = [_entry(item, found, known) for item in node.items]
            return tuple(entry for entry in entries if entry)
        if not (isinstance(node, Scalar) and node.broken):
            hint = "Write ‘- {part: …, length: …}’, each on its own line."
            found.error("SHAPE", node.span, "A list is needed here.", hint)
        return None

    return Value(read, ())


def _entry(node: Node, found: Found, known: Known) -> Measured | None:
    fields = _keys(node, found, "a measured entry")
    if fields is None:
        return None
    which = fields.one_of("part", "knot")
    if not which:
        fields.ignore("uses")  # a length or a mapping, by what is measured
        fields.get("length", LENGTH, None)
        fields.get("cord", known.cord, None)
        fields.get("times", whole(), None)
    entry: Measured | None = None
    if which == "part":
        entry = _part(fields, known)
    elif which == "knot":
        entry = _swatch(fields, known)
    if entry and not {"uses", "length"}.intersection(fields.names):
        fields.one_of("uses", "length")
    fields.finish()
    return None if fields.bad else entry


def _part(fields: Fields, known: Known) -> MeasuredPart:
    return MeasuredPart(
        fields.span("part"),
        fields.need("part", known.part),
        fields.get("length", LENGTH, None),
        fields.get("uses", _uses(known), MappingProxyType({})),
    )


def _uses(known: Known) -> Value[MappingProxyType[str, float]]:
    cord = known.cord

    def read(node: Node, found: Found) -> MappingProxyType[str, float] | None:
        if not isinstance(node, Mapping):
            message = "What is used is listed by cord."
            found.error("SHAPE", node.span, message, f"Write ‘uses: {{{found.cord}: 9 cm}}’.")
            return None
        read = [(cord.read(key, found), LENGTH.read(mm, found)) for key, mm in node.pairs]
        uses = {name: mm for name, mm in read if name is not None and mm is not None}
        return MappingProxyType(uses) if len(uses) == len(read) else None

    return Value(read, MappingProxyType({}))


def _knot(node: Node, found: Found) -> str | None:
    scalar = word(node, found, "a knot")
    return None if scalar is None else knot_name(scalar, found, in_row=True)


def _swatch(fields: Fields, known: Known) -> Swatch:
    return Swatch(
        fields.span("knot"),
        fields.need("knot", Value(_knot, "")),
        fields.need("cord", known.cord),
        fields.need("times", whole()),
        fields.get("uses", LENGTH, None),
        fields.get("length", LENGTH, None),
    )
