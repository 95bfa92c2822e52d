"""The reader of the maker's own knots: what each uses, its size, how it is tied."""

from collections.abc import Mapping as ByName
from dataclasses import replace
from types import MappingProxyType
from typing import Final

from coach.knots.names import KNOTS, first_name
from coach.project.bench_work import OwnKnot
from coach.project.model import Cord
from coach.project.readers.positions import A_PLACE, POSITIONS
from coach.project.readers.rows import knot_name, knots_schema
from coach.text import normalized_name, one_line
from coach.yaml_reader import value_schemas as schemas
from coach.yaml_reader.collector import ReadingProblems, quoted
from coach.yaml_reader.declarations import Key, Keys, Value, may, must
from coach.yaml_reader.expected import by_own_names, report_other
from coach.yaml_reader.mapping_reader import Fields
from coach.yaml_reader.mapping_schema import OWN_NAME, by_name, mapping
from coach.yaml_reader.nodes import Mapping, Node, Scalar, Sequence
from coach.yaml_reader.scalars import TEXTS, THICKNESS, TIMES, whole_number, word

MOST: Final = 100
MOST_STRANDS: Final = 200
OwnKnots = ByName[str, OwnKnot]

KEEPS, REVERSES = "keeps", "reverses"


def _uses(node: Node, found: ReadingProblems) -> tuple[float, ...] | None:
    items = node.items if isinstance(node, Sequence) else (node,)
    read = [THICKNESS.read(item, found) for item in items]
    if not items:
        found.error("EMPTY", node.span, "No length is listed here.", "Write ‘uses: 12 cm’.")
    return tuple(mm for mm in read if mm) if items and all(read) else None


def _order(node: Node, found: ReadingProblems) -> tuple[int, ...] | None:
    """Read `keeps`, `reverses` (returned as 0), or old positions from the left."""
    if isinstance(node, Sequence):
        order = POSITIONS.read(node, found)
        return order.items if order else None
    scalar = word(node, found, "an order")
    if scalar is None:
        return None
    said = normalized_name(scalar.text)
    if said not in (KEEPS, REVERSES):
        hint = "Write keeps, reverses, or the old positions from the left, as in ‘[3, 4, 1, 2]’."
        found.error("CHOICE", scalar.span, f"{quoted(scalar.text)} is not an order.", hint)
        return None
    return () if said == KEEPS else (0,)


def _like(node: Node, found: ReadingProblems) -> str | None:
    scalar = word(node, found, "a knot")
    return None if scalar is None else knot_name(scalar, found)


_LONE: Final = schemas.words_schema((KEEPS, REVERSES))
_KEYS: Final[Keys] = {
    "strands": must(
        "strands", whole_number(1, MOST_STRANDS), "How many strands it ties together.", "4"
    ),
    "uses_mm": must(
        "uses",
        Value(_uses, (1.0,), schemas.list_schema(schemas.THICKNESS)),
        "Cord that it takes, by measurement: one length for every strand, or one each.",
        "12 cm",
    ),
    "size_mm": must("size", THICKNESS, "How long it is down the work.", "14 mm"),
    "order": may(
        "order",
        Value(
            _order,
            (),
            {"anyOf": [_LONE, {"type": "array", "items": A_PLACE, "minItems": 1}]},
        ),
        "keeps, reverses, or the order below it by old positions: [3, 4, 1, 2].",
    ),
    "passes": may("passes", whole_number(1, 1_000), "How many turns of the hand it has."),
    "takes_s": may("takes", TIMES, "How long one takes, as in 2 min."),
    "how": may("how", TEXTS, "How it is tied, a line for each move."),
    "like": may(
        "like", Value(_like, "", knots_schema(KNOTS)), "A known knot that pictures draw for it."
    ),
    "cord_mm": may(
        "measured in", THICKNESS, "How thick the cord was; if left out, as your cord here."
    ),
}
KEYS: Final = tuple(_KEYS.values())


def _knots(node: Node, found: ReadingProblems) -> OwnKnots | None:
    hint = "Write a name, a colon, and what it is: {strands: 4, uses: 12 cm, size: 14 mm}."
    other = "Your own knots are listed by name.", hint
    too_many = f"There are more than {MOST} knots.", "Keep those you use."
    pairs = by_own_names(node, found, other, MOST, too_many)
    if pairs is None:
        return None
    read = {normalized_name(key.text): _knot(key, value, found) for key, value in pairs}
    return MappingProxyType({name: knot for name, knot in read.items() if knot})


def _knot(key: Scalar, value: Node, found: ReadingProblems) -> OwnKnot | None:
    name = one_line(key.text)
    if not normalized_name(name):
        found.error("NAME", key.span, "A knot needs a name.", "Write one before the ‘:’.")
    elif first_name(name, in_row=True):
        message = f"{quoted(name)} is a knot that the coach knows."
        found.error("NAME", key.span, message, "Give your own knot a name of its own.")
    if not isinstance(value, Mapping):
        hint = f"Write ‘{name}: {{strands: 4, uses: 12 cm, size: 14 mm}}’."
        report_other(value, found, "A knot is described by its keys.", hint)
        return None
    fields = Fields(value, found, "a knot of your own")
    knot = OwnKnot(key.span, normalized_name(name), **fields.given(_KEYS))
    if not fields.bad:
        _judge(fields, knot)
    fields.finish()
    return knot


def _judge(fields: Fields, knot: OwnKnot) -> None:
    if len(knot.uses_mm) not in (1, knot.strands):
        message = f"{len(knot.uses_mm)} lengths are given for {knot.strands} strands."
        hint = f"Give one for every strand, or {knot.strands} from the left."
        fields.fail("COUNT", fields.value_span("uses"), message, hint)
    whole_order = knot.order in ((), (0,)) or sorted(knot.order) == [*range(1, knot.strands + 1)]
    if not whole_order:
        message = f"The order does not name each of the {knot.strands} strands once."
        fields.fail("COUNT", fields.value_span("order"), message, "Name 1 to the last once each.")


def with_cord_sizes(knots: OwnKnots, cords: ByName[str, Cord]) -> OwnKnots:
    """Return own knots with the thickness of the cords in which they were measured."""
    thick = MappingProxyType({cord.id: cord.diameter_mm for cord in cords.values()})
    return MappingProxyType(
        {name: replace(knot, measured_in_mm=thick) for name, knot in knots.items()}
    )


KNOTS_OWN: Final[Key[OwnKnots]] = may(
    "knots",
    Value(_knots, MappingProxyType({}), by_name(mapping(KEYS), OWN_NAME, 0)),
    "Knots of your own, by name, measured on your own work.",
)
