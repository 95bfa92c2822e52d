"""Readers of steps that shape the work: nets, plaits, turns, crossings, gaps, picots, beads."""

from dataclasses import replace
from typing import Final, Literal

from coach.knots.names import FLAT_KNOTS
from coach.project.model import (
    About,
    Bead,
    Braid,
    Cross,
    Groups,
    Net,
    Picot,
    Positions,
    Space,
    Step,
    Turn,
)
from coach.project.open_figures import open_value
from coach.project.readers.common_keys import (
    AROUND,
    IN_GROUPS,
    LONG_MADE,
    MADE_OF,
    ONE_GROUP_OF,
    STRANDS,
)
from coach.project.readers.positions import GROUPS, POSITION, POSITIONS, RUN
from coach.project.readers.rows import knot_name, knots_schema
from coach.project.readers.step_kinds import Kind, simple_kind
from coach.text import join_words, normalized_name
from coach.yaml_reader import value_schemas as schemas
from coach.yaml_reader.collector import ReadingProblems, quoted
from coach.yaml_reader.declarations import Instead, OneOf, Value, may, must
from coach.yaml_reader.mapping_reader import Fields
from coach.yaml_reader.nodes import Node, Scalar
from coach.yaml_reader.scalars import LENGTH, THICKNESS, choice, whole_number, word

Sides = Literal["even", "narrow", "widen"]

_SIDES: Final[tuple[Sides, ...]] = ("even", "narrow", "widen")
_SIDES_TOLD: Final = (
    "even: every second row stands half a group further in. narrow: each row has half a group "
    "less on each side than the one above. widen: half a group more on each side, starting from "
    "the groups named if enough strands hang beside them, otherwise from the middle."
)
_THREE: Final = 3
_BY_KIND: Final = {
    "net": {
        **dict.fromkeys(("strands", "groups"), Instead(("net",), "")),
        "times": Instead(("rows",), "Write ‘rows: {}’ instead."),
    },
    "braid": {
        **dict.fromkeys(("strands", "groups"), Instead(("braid",), "")),
        "times": Instead(("crossings",), "Say how many crossings, as in ‘crossings: 30’."),
    },
    "bead": {
        "strands": Instead(("bead",), ""),
        "length": Instead(("size",), "Write ‘size: {}’ instead."),
    },
    "space": {"length": Instead(("space",), "")},
}
"""What other steps call something that these have too."""


def _flat(node: Node, found: ReadingProblems) -> str | None:
    scalar = word(node, found, "a knot")
    name = None if scalar is None else knot_name(scalar, found)
    if scalar and name and name not in FLAT_KNOTS:
        hint = f"A net is tied in {join_words(FLAT_KNOTS, 'or')}s."
        found.error("KNOT", scalar.span, f"The {name} does not make a net.", hint)
        return None
    return name


def _check_net(fields: Fields, net: Net) -> None:
    sizes = {len(group.items) for group in net.groups.members}
    items = [item for group in net.groups.members for item in group.items]
    if not sizes:
        return  # they could not be read
    if len(sizes) > 1 or any(size % 2 or not size for size in sizes):
        message = "The groups of a net must be even in size and all alike."
    elif items != list(range(items[0], items[0] + len(items))):
        message = "The groups of a net must be side by side, from the left."
    else:
        return
    fields.fail("GROUPS", net.groups.span, message, "Write them as in ‘1-36 by 4’.")


NET: Final = simple_kind(
    "net",
    Net,
    {
        "groups": must("net", GROUPS, "Groups of a net: 1-36 by 4."),
        "of": must("of", Value(_flat, "", knots_schema(FLAT_KNOTS)), MADE_OF, "square knot"),
        "rows": must("rows", whole_number(), "How many rows.", "4"),
        "sides": may(
            "sides",
            choice(_SIDES),
            _SIDES_TOLD,
        ),
        "gap_mm": may("gap", LENGTH, "Room between the rows."),
    },
    judge=_check_net,
    instead=_BY_KIND["net"],
)


def _bundles(node: Node, found: ReadingProblems) -> Groups | None:
    """Read three strands, `1-3`, or three bundles, `[1-3, 4-5, 6-8]` or `1-6 by 2`."""
    if not isinstance(node, Scalar) or " by " in normalized_name(node.text[:100]):
        bundles = GROUPS.read(node, found)
    else:
        strands = POSITIONS.read(node, found)
        single = tuple(Positions(node.span, (item,)) for item in strands.items) if strands else ()
        bundles = Groups(node.span, single) if strands else None
    if bundles and len(bundles.members) != _THREE:
        count = len(bundles.members)
        hint = "Name three strands, ‘1-3’, or three bundles, ‘[1-3, 4-5, 6-8]’."
        if isinstance(node, Scalar) and count and count % _THREE == 0 and " by " not in node.text:
            hint = f"For three bundles write ‘{node.text.strip()} by {count // _THREE}’."
        said = str(count) if count else quoted("all")
        message = f"A braid is made of three strands or bundles, not {said}."
        found.error("GROUPS", bundles.span, message, hint)
        return None
    return bundles


_BRAID: Final = must(
    "braid",
    Value(
        _bundles, GROUPS.blank, {"anyOf": [*GROUPS.schema["anyOf"], schemas.pattern_schema(RUN)]}
    ),
    "A plait of three strands, 1-3, or bundles, [1-3, 4-5, 6-8].",
)
_PLAITED: Final = replace(LONG_MADE, example="12 cm")
_CROSSINGS: Final = may("crossings", whole_number(), "How many crossings a plait has.", "30")
_HOW_LONG: Final = OneOf((_PLAITED, _CROSSINGS))


def _braid(fields: Fields, about: About) -> Step:
    fields.instead = _BY_KIND["braid"]
    bundles = fields.need(_BRAID)
    which = fields.one_of(_HOW_LONG)
    length_mm = fields.need(_PLAITED) if which is _PLAITED else None
    crossings = fields.need(_CROSSINGS) if which is _CROSSINGS else None
    return Braid(about, bundles, length_mm, crossings)


BRAID: Final = Kind(_braid, {"braid": (_BRAID, _HOW_LONG)})

_TURN: Final = must("turn", POSITION, "The strand that turns round.")
_NEIGHBOUR_OR_PIN: Final = replace(
    AROUND,
    value=replace(
        POSITION, schema={"anyOf": [*POSITION.schema["anyOf"], schemas.words_schema(("pin",))]}
    ),
    example="pin",
)


def _turn(fields: Fields, about: About) -> Step:
    holder = fields.need(_TURN)
    if normalized_name(fields.written("around")) == "pin":
        fields.ignore("around")
        return Turn(about, holder, None)
    return Turn(about, holder, fields.need(_NEIGHBOUR_OR_PIN))


TURN: Final = Kind(_turn, {"turn": (_TURN, _NEIGHBOUR_OR_PIN)})

CROSS: Final = simple_kind(
    "cross",
    Cross,
    {"order": must("cross", POSITIONS, "A new order from the left, by old position.")},
)
SPACE: Final = simple_kind(
    "space",
    Space,
    {
        "length_mm": must("space", open_value(LENGTH), "A length left unknotted."),
        "groups": OneOf((ONE_GROUP_OF, IN_GROUPS), needed=False),
    },
    instead=_BY_KIND["space"],
)
PICOT: Final = simple_kind(
    "picot",
    Picot,
    {
        "loop_mm": must("picot", open_value(THICKNESS), "How much cord stands out as a loop."),
        "strands": replace(STRANDS, needed=True),
    },
)
BEAD: Final = simple_kind(
    "bead",
    Bead,
    {
        "strands": must("bead", POSITIONS, "The strands that pass through a bead."),
        "size_mm": must("size", THICKNESS, "How long the bead is.", "8 mm"),
    },
    instead=_BY_KIND["bead"],
)
