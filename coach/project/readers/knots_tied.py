"""Readers of knots in groups, round other strands, and wrapped."""

from collections.abc import Callable
from dataclasses import replace
from typing import Any, Final

from coach.knots.names import (
    AROUND_KNOTS,
    BARREL,
    BERRY,
    BUNDLE_KNOTS,
    CHAIN,
    FLAT_KNOTS,
    GATHERING,
    JOSEPHINE,
    KNOTS,
    REVERSE_LARKS_HEAD,
    ROW_SYNONYMS,
)
from coach.project.model import (
    About,
    AroundKnot,
    Gathering,
    GroupKnot,
    OwnTied,
    Step,
)
from coach.project.open_figures import LONGEST, is_longest, open_value
from coach.project.readers.common_keys import (
    AROUND,
    BY_GROUP,
    CORD,
    KNOTTER,
    LONG_MADE,
    MADE_OF,
    STRANDS,
    TIMES_TIED,
)
from coach.project.readers.positions import GROUPS, POSITION, POSITIONS
from coach.project.readers.rows import knot_name, knots_schema
from coach.project.readers.step_kinds import Kind, keys_of, simple_kind
from coach.text import normalized_name
from coach.yaml_reader.collector import ReadingProblems
from coach.yaml_reader.declarations import Instead, Key, Keys, OneOf, Value, may, must
from coach.yaml_reader.mapping_reader import Fields
from coach.yaml_reader.nodes import Node
from coach.yaml_reader.scalars import THICKNESS, whole_number, word

_MOST_TURNS: Final = 1_000

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


def _read_knot(node: Node, found: ReadingProblems) -> str | None:
    scalar = word(node, found, "a knot")
    if scalar is None:
        return None
    if normalized_name(scalar.text) in ROW_SYNONYMS:
        message = "Only in a row is this name clear."
        found.error("KNOT", scalar.span, message, f"Write ‘knot: {REVERSE_LARKS_HEAD}’.")
        return None
    if normalized_name(scalar.text) in found.own_knots:
        return normalized_name(scalar.text)
    return knot_name(scalar, found)


def _knot_of(*knots: str) -> Key[str]:
    value = Value(_read_knot, "", knots_schema(knots))
    said = "A knot tied in a group, round other strands, or round all."
    return must("knot", value, said)


_SIZES: Final[dict[str, tuple[Callable[[int], bool], str]]] = {
    CHAIN: (lambda size: size == 2, "exactly 2 strands"),  # noqa: PLR2004 - as it says
    JOSEPHINE: (lambda size: size % 2 == 0, "an even number of strands"),
    **dict.fromkeys(
        (*FLAT_KNOTS, BERRY),
        (lambda size: size >= 2, "at least 2 strands"),  # noqa: PLR2004 - as it says
    ),
}


def _check_sizes(fields: Fields, step: GroupKnot) -> None:
    if fields.bad or step.clasp:
        return
    suits, wanted = _SIZES.get(step.knot, (lambda _: True, ""))
    for group in step.groups.members:
        if not group.everything and not suits(len(group.items)):
            message = f"A {step.knot} needs {wanted}, not {len(group.items)}."
            fields.fail("GROUPS", group.span, message, f"Give each group {wanted}.")


def _in_groups(name: str, knots: tuple[str, ...], **more: Key[Any]) -> Kind:
    keys: Keys = {"knot": _knot_of(*knots), "groups": BY_GROUP, "times": TIMES_TIED, **more}
    return simple_kind(name, GroupKnot, keys, judge=_check_sizes, instead=_IN_GROUPS)


_FLAT_KNOT: Final = _in_groups(
    "flat knot",
    FLAT_KNOTS,
    clasp=may("with", CORD, "A cord; a new piece of it is tied round all the strands."),
)
_BUNDLE_KNOT: Final = _in_groups("bundle knot", (*BUNDLE_KNOTS, CHAIN))
_JOSEPHINE_KNOT: Final = _in_groups(
    "josephine knot",
    (JOSEPHINE,),
    size_mm=may("size", THICKNESS, "How long an open josephine knot is."),
)
_BERRY_KNOT: Final = _in_groups(
    "berry knot", (BERRY,), squares=must("of", whole_number(), MADE_OF, "3")
)
_TIED_BY: Final = replace(KNOTTER, needed=True)
_ROUND: Final = simple_kind(
    "knot around",
    AroundKnot,
    {
        "knot": _knot_of(*AROUND_KNOTS),
        "knotter": _TIED_BY,
        "around": AROUND,
        "times": TIMES_TIED,
    },
    instead=_ROUND_OTHERS,
)
_OF_THESE: Final = must("strands", POSITIONS, "Strands of which the longest ties.", "1-4")
_OF_LONGEST: Final = {"around": Instead(("strands",), "Name all of them: ‘strands: {}’.")}


def _by_longest(fields: Fields, about: About, **more: int) -> Step:
    """Read a knot that the strand with most left ties round the others."""
    fields.instead = _OF_LONGEST
    knot = fields.need(_knot_of(*AROUND_KNOTS, BARREL))
    fields.need(LONGEST)
    among = fields.need(_OF_THESE)
    if not among.everything and len(among.items) < 2:  # noqa: PLR2004 - one to tie round another
        message = "The longest is chosen among two strands or more."
        fields.fail("STRANDS", fields.span("strands"), message, "Name them all: ‘strands: 1-4’.")
    return AroundKnot(about, knot, POSITION.blank, None, among=among, **more)


def _around(fields: Fields, about: About) -> Step:
    if not is_longest(fields):
        return _ROUND.read(fields, about)
    return _by_longest(fields, about, **fields.given({"times": TIMES_TIED}))


_AROUND_KNOT: Final = Kind(
    _around,
    {
        **_ROUND.shapes,
        "knot by the longest": (_knot_of(*AROUND_KNOTS), LONGEST, _OF_THESE, TIMES_TIED),
    },
)
_GATHERING_KNOT: Final = simple_kind(
    "gathering knot",
    Gathering,
    {
        "wrap": must("wrap", CORD, "The cord that is wrapped round.", lambda found: found.a_cord),
        "around": replace(AROUND, example="all"),
        "length_mm": replace(LONG_MADE, needed=True),
    },
    instead=_OF_GATHERING,
    before=(_knot_of(GATHERING),),
)

_ITSELF: Final = must("strands", POSITION, STRANDS.said, "1")
_TURNING: Final[Keys] = {
    "times": TIMES_TIED,
    "turns": must(
        "turns",
        open_value(whole_number(1, _MOST_TURNS)),
        "Turns of a barrel knot: 3, or 4 or more.",
        "3",
    ),
}


def _barrel(fields: Fields, about: About) -> Step:
    if is_longest(fields):
        return _by_longest(fields, about, **fields.given(_TURNING))
    fields.instead = _OF_BARREL
    round_others = "around" in fields.names and "strands" not in fields.names
    which = KNOTTER if round_others else fields.one_of(OneOf((_ITSELF, KNOTTER)))
    knotter = fields.need(which) if which else POSITION.blank
    around = None
    if which is KNOTTER:
        around = fields.need(AROUND)
    elif fields.take(AROUND, None):
        message = "With ‘strands’ a barrel knot is tied on itself, not around others."
        fields.fail("EXCLUSIVE", fields.span("around"), message, "Write ‘knotter’ instead.")
    return AroundKnot(about, BARREL, knotter, around, **fields.given(_TURNING))


_BARREL_KNOT: Final = Kind(
    _barrel,
    {
        "barrel knot": (_knot_of(BARREL), _TIED_BY, AROUND, *_TURNING.values()),
        "barrel knot by the longest": (
            _knot_of(BARREL),
            LONGEST,
            _OF_THESE,
            *_TURNING.values(),
        ),
        "barrel knot on itself": (_knot_of(BARREL), _ITSELF, *_TURNING.values()),
    },
)
_OWN: Final = must(
    "knot",
    Value(_read_knot, "", {"type": "string", "pattern": r"\S", "not": knots_schema(KNOTS)}),
    "A knot of your own, by the name that it has under ‘knots’.",
)


def _own_knot(fields: Fields, about: About, name: str) -> Step:
    fields.instead = _IN_GROUPS
    strands = fields.found.own_knots[name]
    step = OwnTied(about, name, **fields.given({"groups": BY_GROUP, "times": TIMES_TIED}))
    for group in step.groups.members:
        if not group.everything and len(group.items) != strands:
            message = f"Your {name} ties {strands} strands, not {len(group.items)}."
            hint = f"Give each group {strands}."
            fields.fail("GROUPS", group.span, message, hint)
    return step


_BY_KNOT: Final = {
    **dict.fromkeys(FLAT_KNOTS, _FLAT_KNOT),
    **dict.fromkeys((*BUNDLE_KNOTS, CHAIN), _BUNDLE_KNOT),
    JOSEPHINE: _JOSEPHINE_KNOT,
    BERRY: _BERRY_KNOT,
    **dict.fromkeys(AROUND_KNOTS, _AROUND_KNOT),
    BARREL: _BARREL_KNOT,
    GATHERING: _GATHERING_KNOT,
}
_SHAPES: Final = {
    **{name: shape for kind in _BY_KNOT.values() for name, shape in kind.shapes.items()},
    "knot of your own": (_OWN, BY_GROUP, TIMES_TIED),
}
_KNOT: Final = _knot_of(*_BY_KNOT)


def _knot(fields: Fields, about: About) -> Step:
    """Read a step of any knot outside rows, by the reader for its kind of knot."""
    name = fields.need(_KNOT)
    if not name:
        return _unknown(fields, about)
    fields.what = f"{'an' if name[0] in 'aeiou' else 'a'} {name} step"
    if name in fields.found.own_knots:
        return _own_knot(fields, about, name)
    return _BY_KNOT[name].read(fields, about)


def _unknown(fields: Fields, about: About) -> Step:
    """Read every key that some knot has, so that one mistake does not hide another."""
    for key in keys_of(_SHAPES.values()).values():
        if key.name != _KNOT.name:
            fields.take(key, None)
    return GroupKnot(about, "", GROUPS.blank)


KNOT: Final = Kind(_knot, _SHAPES)
