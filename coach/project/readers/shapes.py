"""Steps that shape the work: nets, braids, turns, crossings, gaps, picots and beads."""

from typing import Final, Literal

from coach.knots.names import FLAT_KNOTS, plain
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
from coach.project.readers.knots_tied import groups_of
from coach.project.readers.positions import GROUPS, POSITION, POSITIONS
from coach.project.readers.references import Known
from coach.project.readers.rows import knot_name
from coach.text import listed
from coach.yaml_reader.collector import Found, quoted
from coach.yaml_reader.mapping_reader import Fields, Instead, Value
from coach.yaml_reader.nodes import Node, Scalar
from coach.yaml_reader.scalars import LENGTH, THICKNESS, choice, whole, word

Sides = Literal["even", "narrow", "widen"]

SIDES: Final[tuple[Sides, ...]] = ("even", "narrow", "widen")
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


def _flat(node: Node, found: Found) -> str | None:
    scalar = word(node, found, "a knot")
    name = None if scalar is None else knot_name(scalar, found)
    if scalar and name and name not in FLAT_KNOTS:
        hint = f"A net is tied in {listed(FLAT_KNOTS, 'or')}s."
        found.error("KNOT", scalar.span, f"The {name} does not make a net.", hint)
        return None
    return name


_FLAT: Final = Value(_flat, "")


def net(fields: Fields, about: About, _: Known) -> Step:
    """Read `net: 1-36 by 4`."""
    fields.instead = _BY_KIND["net"]
    groups = fields.need("net", GROUPS)
    if not fields.bad:
        _check_net(fields, groups)
    return Net(
        about,
        groups,
        fields.need("of", _FLAT),
        fields.need("rows", whole()),
        fields.get("sides", choice(SIDES), "even"),
        fields.get("gap", LENGTH, 0.0),
    )


def _check_net(fields: Fields, groups: Groups) -> None:
    sizes = {len(group.items) for group in groups.members}
    items = [item for group in groups.members for item in group.items]
    if len(sizes) > 1 or any(size % 2 or not size for size in sizes):
        message = "The groups of a net must be even in size and all alike."
    elif items != list(range(items[0], items[0] + len(items))):
        message = "The groups of a net must be side by side, from the left."
    else:
        return
    fields.fail("GROUPS", groups.span, message, "Write them as in ‘1-36 by 4’.")


def _bundles(node: Node, found: Found) -> Groups | None:
    """Read three strands, `1-3`, or three bundles, `[1-3, 4-5, 6-8]` or `1-6 by 2`."""
    if not isinstance(node, Scalar) or " by " in plain(node.text[:100]):
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


_BUNDLES: Final = Value(_bundles, GROUPS.blank)


def braid(fields: Fields, about: About, _: Known) -> Step:
    """Read `braid: 1-3`."""
    fields.instead = _BY_KIND["braid"]
    bundles = fields.need("braid", _BUNDLES)
    which = fields.one_of("length", "crossings")
    length_mm = fields.need("length", THICKNESS) if which == "length" else None
    crossings = fields.need("crossings", whole()) if which == "crossings" else None
    return Braid(about, bundles, length_mm, crossings)


def turn(fields: Fields, about: About, _: Known) -> Step:
    """Read `turn: 4`, with `around:` a neighbour or a pin."""
    holder = fields.need("turn", POSITION)
    if plain(fields.written("around")) == "pin":
        fields.ignore("around")
        return Turn(about, holder, None)
    return Turn(about, holder, fields.need("around", POSITION))


def cross(fields: Fields, about: About, _: Known) -> Step:
    """Read `cross: [3, 4, 1, 2]`."""
    return Cross(about, fields.need("cross", POSITIONS))


def space(fields: Fields, about: About, _: Known) -> Step:
    """Read `space: 3 cm`."""
    fields.instead = _BY_KIND["space"]
    return Space(
        about=about,
        length_mm=fields.need("space", LENGTH),
        groups=groups_of(fields, needed=False),
    )


def picot(fields: Fields, about: About, _: Known) -> Step:
    """Read `picot: 15 mm`."""
    loop_mm = fields.need("picot", THICKNESS)
    return Picot(about, fields.need("strands", POSITIONS), loop_mm)


def bead(fields: Fields, about: About, _: Known) -> Step:
    """Read `bead: 2-3`."""
    fields.instead = _BY_KIND["bead"]
    return Bead(about, fields.need("bead", POSITIONS), fields.need("size", THICKNESS))
