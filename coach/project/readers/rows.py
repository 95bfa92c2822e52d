"""Readers of rows and weaves, in which one strand travels across others."""

import re
from functools import partial
from typing import Final, Literal

from coach.knots.names import (
    CLOVE,
    HALF_HITCH,
    KNOTS,
    LARKS_HEAD,
    REVERSE_CLOVE,
    REVERSE_LARKS_HEAD,
    ROW_SYNONYMS,
    SYNONYMS,
    first_name,
)
from coach.project.model import About, Positions, RigidRow, Row, Step
from coach.project.readers.common_keys import ACROSS, HOLDER, KNOTTER, TIMES_MADE
from coach.project.readers.positions import MOST_POSITIONS, POSITION
from coach.project.readers.step_kinds import Kind, simple_kind
from coach.text import join_words, normalized_name
from coach.yaml_reader import value_schemas as schemas
from coach.yaml_reader.collector import ReadingProblems, quoted
from coach.yaml_reader.declarations import Instead, Key, Keys, OneOf, Schema, Value, may, must
from coach.yaml_reader.mapping_reader import Fields
from coach.yaml_reader.nodes import Node, Scalar, Sequence
from coach.yaml_reader.scalars import SLOPE, THICKNESS, choice, word

Lie = Literal["level", "slant"]

_LIES: Final[tuple[Lie, ...]] = ("level", "slant")
_LYING: Final[Keys] = {
    "lie": may("lie", choice(_LIES), "level or slant."),
    "slope_deg": may("slope", SLOPE, "How steep a slanting row is: 45°."),
    "times": TIMES_MADE,
}
RIGID: Final = ("ring", "dowel", "bar", "buckle", "cord")
"""What strands may be hitched onto that is no strand of the work."""
_ONTO: Final = must(
    "holder", choice(RIGID), "What they tie onto: ring, dowel, bar, buckle, cord.", "ring"
)
_THICK: Final = may("diameter", THICKNESS, "How thick that is.")
Begun = Literal["", "under", "over"]
_BEGINNINGS: Final[tuple[Begun, ...]] = ("under", "over")
_PLAINLY: Final[Begun] = ""
_BEGUN: Final = may("first", choice(_BEGINNINGS), "under or over: which way the knotter begins.")
_ROLES: Final = {
    CLOVE: OneOf((HOLDER,)),
    LARKS_HEAD: OneOf((HOLDER,)),
    REVERSE_CLOVE: OneOf((KNOTTER,)),
    REVERSE_LARKS_HEAD: OneOf((KNOTTER,)),
    HALF_HITCH: OneOf((HOLDER, KNOTTER)),
}
_ONTO_RIGID: Final = (CLOVE, LARKS_HEAD, HALF_HITCH)
_BY_KNOTTER: Final = (REVERSE_CLOVE,)
_UNREAD: Final = ""  # a knot that could not be read hides no fault of what stands beside it
_OTHER_WAY: Final = {
    CLOVE: REVERSE_CLOVE,
    REVERSE_CLOVE: CLOVE,
    LARKS_HEAD: REVERSE_LARKS_HEAD,
    REVERSE_LARKS_HEAD: LARKS_HEAD,
}
_EITHER: Final = _ROLES[HALF_HITCH]
_CROSSED: Final = dict.fromkeys(
    ("strands", "groups", "around"), Instead(("across",), "Write ‘across: {}’ instead.")
)
_WOVEN: Final = {
    **_CROSSED,
    **dict.fromkeys(("holder", "knotter"), Instead(("weave",), "")),
}
"""What other steps call the strands of a row, or of a weave."""
_COUNTED = re.compile(r"(?:([0-9]{1,9})\s+)?(.+)", re.DOTALL)


def knot_name(scalar: Scalar, found: ReadingProblems, *, in_row: bool = False) -> str | None:
    """Return the first name of a knot written by any of its names.

    Args:
        scalar: What is written.
        found: Collects problems; an unknown knot is reported with the nearest name.
        in_row: Whether to accept names that knots only have in rows.

    Returns:
        The name, None where there is no such knot.
    """
    knot = first_name(scalar.text, in_row=in_row)
    if knot is None:
        names = (*KNOTS, *SYNONYMS, *(ROW_SYNONYMS if in_row else ()))
        hint = found.suggest(normalized_name(scalar.text), names, f"Knots are {join_words(KNOTS)}.")
        found.error("KNOT", scalar.span, f"Unknown knot {quoted(scalar.text)}.", hint)
    return knot


def knots_schema(knots: tuple[str, ...], *, in_row: bool = False) -> Schema:
    """Return the schema of one of some knots, by any of their names."""
    others = SYNONYMS | (ROW_SYNONYMS if in_row else {})
    return schemas.words_schema(
        [*knots, *(other for other, first in others.items() if first in knots)]
    )


def _row_knot(node: Node, found: ReadingProblems) -> str | None:
    scalar = word(node, found, "a knot")
    knot = scalar and knot_name(scalar, found, in_row=True)
    if scalar is None or knot is None:
        return None
    if knot not in _ROLES:
        hint = f"Write ‘knot: {knot}’, or make the row of clove hitches."
        found.error("KNOT", scalar.span, f"The {knot} does not make a row.", hint)
        return None
    return knot


def _row_of(*knots: str) -> Key[str]:
    value = Value(_row_knot, "", knots_schema(knots, in_row=True))
    return must("row", value, "A row of knots: one strand goes across others.")


_ROW: Final = _row_of(*_ROLES)


def _row(fields: Fields, about: About) -> Step:
    fields.instead = _CROSSED
    knot = fields.need(_ROW)
    holder = normalized_name(fields.written("holder"))
    rigid = _THICK.name in fields.names or _is_rigid(holder, fields.found)
    if rigid and knot in (*_ONTO_RIGID, _UNREAD):
        return _rigid_row(fields, about, knot)
    role = _role(fields, knot)
    mover = fields.need(role) if role else POSITION.blank
    across = fields.need(ACROSS)
    first: Begun = fields.take(_BEGUN, _PLAINLY) if knot in (*_BY_KNOTTER, _UNREAD) else _PLAINLY
    row = Row(
        about, mover, across, (knot,), role is HOLDER, first=first, **fields.given(_LYING)
    )  # fmt: skip
    if row.lie == "level" and row.slope_deg is not None:
        message = "A level row has no slope."
        fields.fail("EXCLUSIVE", fields.span("slope"), message, "Write ‘lie: slant’.")
    return row


def _is_rigid(holder: str, found: ReadingProblems) -> bool:
    """Return whether a holder is no position but something rigid, by its name or nearly so."""
    if not holder or holder.isdecimal():
        return False
    return holder in RIGID or bool(found.near(holder, RIGID))


def _rigid_row(fields: Fields, about: About, knot: str) -> Step:
    """Read a row onto a ring, a bar or a wire."""
    onto = fields.need(_ONTO)
    across = fields.need(ACROSS)
    thick_mm, times = fields.take(_THICK, None), fields.take(TIMES_MADE, 1)
    return RigidRow(about, knot, onto, across, thick_mm, times)


def _role(fields: Fields, knot: str) -> Key[Positions] | None:
    """Return the key that makes the mover holder or knotter; report what does not suit the knot."""
    suited = _ROLES.get(knot, _EITHER)
    if not {key.name for key in _EITHER.keys}.intersection(fields.names):
        return fields.one_of(suited)
    role = fields.one_of(_EITHER)
    if role and role not in suited.keys:
        right, does = suited.keys[0].name, "travels and knots" if role is KNOTTER else "holds"
        message = f"In a row of the {knot} the strand that travels is the {right}."
        hint = f"Write ‘{right}:’, or where it {does} ‘row: {_OTHER_WAY[knot]}’."
        fields.fail("ROLE", fields.span(role.name), message, hint)
    return role


_LEVEL_WITH_SLOPE: Final = {
    "required": ["lie", "slope"],
    "properties": {"lie": schemas.words_schema(("level",))},
}
ROW: Final = Kind(
    _row,
    {
        **{
            f"{knot} row": (
                _row_of(knot),
                roles,
                ACROSS,
                *_LYING.values(),
                *((_BEGUN,) if knot in _BY_KNOTTER else ()),
            )
            for knot, roles in _ROLES.items()
        },
        "row onto something rigid": (_row_of(*_ONTO_RIGID), _ONTO, ACROSS, _THICK, TIMES_MADE),
    },
    also={"not": _LEVEL_WITH_SLOPE},
)


def _weave_knots(node: Node, found: ReadingProblems) -> tuple[str, ...] | None:
    items = node.items if isinstance(node, Sequence) else (node,)
    knots: list[str] = []
    sound = True
    for item in items:
        some = _some(item, found)
        sound = sound and some is not None
        if some is not None and len(knots) + some[0] > MOST_POSITIONS:
            message = f"More than {MOST_POSITIONS} knots are listed."
            found.error("COUNT", item.span, message, "Give one knot for each strand across.")
            return None
        knots.extend([some[1]] * some[0] if some else [])
    return tuple(knots) if sound and found.room_for(len(knots), node.span) else None


def _some(item: Node, found: ReadingProblems) -> tuple[int, str] | None:
    """Read `5 clove hitch`."""
    scalar = word(item, found, "a knot")
    match = scalar and _COUNTED.fullmatch(scalar.text.strip())
    if not scalar or not match:
        return None
    knot = knot_name(Scalar(scalar.span, match[2]), found, in_row=True)
    if knot is None:
        return None
    if knot not in (CLOVE, REVERSE_CLOVE):
        message = f"A weave is not made with the {knot}."
        found.error("KNOT", scalar.span, message, f"Use {CLOVE} and {REVERSE_CLOVE}.")
        return None
    count = int(match[1] or 1)
    if not count:
        found.error("NUMBER", scalar.span, "0 knots cannot be tied.", "Leave this out.")
        return None
    return count, knot


_WEAVE_KNOT: Final = knots_schema((CLOVE, REVERSE_CLOVE))["anyOf"][1]["pattern"][1:-1]
_SOME_KNOTS: Final = schemas.pattern_schema(rf"\s*(?:0*[1-9][0-9]{{0,3}}\s+)?{_WEAVE_KNOT}")


def _as_many_as_crossed(fields: Fields, weave: Row) -> None:
    across, knots = weave.across, weave.knots
    if not fields.bad and not across.everything and len(knots) != len(across.items):
        message = f"{len(knots)} knots are given for {len(across.items)} strands."
        hint = f"Let the numbers add up to {len(across.items)}."
        fields.fail("COUNT", fields.value_span("knots"), message, hint)


WEAVE: Final = simple_kind(
    "weave",
    partial(Row, mover_holds=True, weave=True),
    {
        "mover": must(
            "weave", POSITION, "Position of the strand that travels in a weave of two colours."
        ),
        "across": ACROSS,
        "knots": must(
            "knots",
            Value(_weave_knots, (), schemas.list_schema(_SOME_KNOTS, least=0)),
            "One knot for each strand crossed: [5 clove hitch, 2 reverse clove hitch].",
            "[3 clove hitch]",
        ),
    },
    judge=_as_many_as_crossed,
    instead=_WOVEN,
)
