"""Knots tied on the spot: in groups, round other strands, and wrapped."""

from collections.abc import Callable
from typing import Final

from coach.knots.names import (
    AROUND_KNOTS,
    BARREL,
    BERRY,
    CHAIN,
    FLAT_KNOTS,
    GATHERING,
    JOSEPHINE,
    REVERSE_LARKS_HEAD,
    ROW_SYNONYMS,
    plain,
)
from coach.project.model import About, AroundKnot, Gathering, GroupKnot, Groups, Step
from coach.project.readers.positions import GROUPS, POSITION, POSITIONS
from coach.project.readers.references import Known
from coach.project.readers.rows import knot_name
from coach.yaml_reader.collector import Found
from coach.yaml_reader.mapping_reader import Fields, Instead, Value
from coach.yaml_reader.nodes import Node
from coach.yaml_reader.scalars import THICKNESS, whole, word

MOST_TURNS: Final = 1_000

_ALL_STRANDS: Final = Instead(("strands",), "Name all its strands at once: ‘strands: {}’.")
_INSIDE: Final = Instead(("around",), "Write ‘around: {}’ instead.")
_BOTH: Final = Instead(
    ("knotter", "around"),
    "Name the strand that ties as ‘knotter’, those that it ties round as ‘around’.",
)
_TOGETHER: Final = Instead(("strands",), "Name all its strands at once, as in ‘strands: 1-4’.")
_IN_GROUPS: Final = {
    **dict.fromkeys(("around", "across"), _ALL_STRANDS),
    **dict.fromkeys(("knotter", "holder"), _TOGETHER),
    "wrap": Instead(("with",), "Write ‘with: {}’ instead."),
}  # fmt: skip
_ROUND_OTHERS: Final = {
    "holder": _INSIDE, "across": _INSIDE, "strands": _BOTH, "groups": _BOTH,
}  # fmt: skip
_OF_BARREL: Final = {
    "holder": _INSIDE, "across": _INSIDE, "groups": _BOTH,
    "length": Instead(("turns",), "Say how many turns it has, as in ‘turns: 3’."),
}  # fmt: skip
_LONG: Final = Instead(("length",), "Say how long it is, as in ‘length: 3 cm’.")
_WRAPPED: Final = Instead(("wrap",), "Write ‘wrap: {}’ instead.")
_OF_GATHERING: Final = {
    **dict.fromkeys(("strands", "groups", "across", "holder"), _INSIDE),
    **dict.fromkeys(("with", "cord"), _WRAPPED),
    "knotter": Instead(("wrap",), "It is tied with a cord of its own: name that as ‘wrap’."),
    **dict.fromkeys(("turns", "times"), _LONG),
}  # fmt: skip
"""What other knots call the roles of this one."""


def _read_knot(node: Node, found: Found) -> str | None:
    scalar = word(node, found, "a knot")
    if scalar is None:
        return None
    if plain(scalar.text) in ROW_SYNONYMS:
        message = "Only in a row is this name clear."
        found.error("KNOT", scalar.span, message, f"Write ‘knot: {REVERSE_LARKS_HEAD}’.")
        return None
    return knot_name(scalar, found)


_KNOT: Final = Value(_read_knot, "")


def knot(fields: Fields, about: About, known: Known) -> Step:
    """Read `knot: square knot` and all other knots that are no row."""
    name = fields.need("knot", _KNOT)
    if not name:
        return _unknown(fields, about, known)
    fields.what = f"{'an' if name[0] in 'aeiou' else 'a'} {name} step"
    if name == BARREL:
        return _barrel(fields, about)
    if name == GATHERING:
        return _gathering(fields, about, known)
    return (_around if name in AROUND_KNOTS else _in_groups)(fields, about, known, name)


def _unknown(fields: Fields, about: About, known: Known) -> Step:
    """Read all that any knot may say, so that one fault does not hide another."""
    for name in ("strands", "around"):
        fields.get(name, POSITIONS, None)
    for name in ("times", "of", "turns"):
        fields.get(name, whole(), None)
    for name in ("with", "wrap"):
        fields.get(name, known.cord, None)
    fields.get("groups", GROUPS, None)
    fields.get("knotter", POSITION, None)
    fields.get("length", THICKNESS, None)
    return GroupKnot(about, "", GROUPS.blank)


def groups_of(fields: Fields, *, needed: bool = True) -> Groups | None:
    """Read `strands:`, which is one group, or `groups:`; None if neither need be there."""
    which = fields.one_of("strands", "groups", needed=needed)
    if which == "groups":
        return fields.need("groups", GROUPS)
    if which == "strands":
        strands = fields.need("strands", POSITIONS)
        return Groups(strands.span, (strands,))
    return None


def _in_groups(fields: Fields, about: About, known: Known, name: str) -> Step:
    fields.instead = _IN_GROUPS
    groups = groups_of(fields) or GROUPS.blank
    times = fields.get("times", whole(), 1)
    clasp = fields.get("with", known.cord, "") if name in FLAT_KNOTS else ""
    squares = fields.need("of", whole()) if name == BERRY else 0
    if not fields.bad and not clasp:
        _check_sizes(fields, groups, name)
    return GroupKnot(about, name, groups, times, clasp, squares)


_SIZES: Final[dict[str, tuple[Callable[[int], bool], str]]] = {
    CHAIN: (lambda size: size == 2, "exactly 2 strands"),  # noqa: PLR2004 - as it says
    JOSEPHINE: (lambda size: size % 2 == 0, "an even number of strands"),
    **dict.fromkeys(
        (*FLAT_KNOTS, BERRY),
        (lambda size: size >= 2, "at least 2 strands"),  # noqa: PLR2004 - as it says
    ),
}


def _check_sizes(fields: Fields, groups: Groups, name: str) -> None:
    suits, wanted = _SIZES.get(name, (lambda _: True, ""))
    for group in groups.members:
        if not group.everything and not suits(len(group.items)):
            message = f"A {name} needs {wanted}, not {len(group.items)}."
            fields.fail("GROUPS", group.span, message, f"Give each group {wanted}.")


def _around(fields: Fields, about: About, _: Known, name: str) -> Step:
    fields.instead = _ROUND_OTHERS
    return AroundKnot(
        about,
        name,
        fields.need("knotter", POSITION),
        fields.need("around", POSITIONS),
        fields.get("times", whole(), 1),
    )


def _barrel(fields: Fields, about: About) -> Step:
    fields.instead = _OF_BARREL
    round_others = "around" in fields.names and "strands" not in fields.names
    which = "knotter" if round_others else fields.one_of("strands", "knotter")
    knotter = fields.need(which, POSITION) if which else POSITION.blank
    around = None
    if which == "knotter":
        around = fields.need("around", POSITIONS)
    elif fields.get("around", POSITIONS, None):
        message = "With ‘strands’ a barrel knot is tied on itself, not around others."
        fields.fail("EXCLUSIVE", fields.span("around"), message, "Write ‘knotter’ instead.")
    times = fields.get("times", whole(), 1)
    turns = fields.need("turns", whole(1, MOST_TURNS))
    return AroundKnot(about, BARREL, knotter, around, times, turns)


def _gathering(fields: Fields, about: About, known: Known) -> Step:
    fields.instead = _OF_GATHERING
    return Gathering(
        about,
        fields.need("wrap", known.cord),
        fields.need("around", POSITIONS),
        fields.need("length", THICKNESS),
    )
