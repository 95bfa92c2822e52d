"""Rows and weaves: one strand travels across others."""

import re
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
    plain,
)
from coach.project.model import About, Row, Step
from coach.project.readers.positions import MOST_POSITIONS, POSITION, POSITIONS
from coach.project.readers.references import Known
from coach.text import listed
from coach.yaml_reader.collector import Found, quoted
from coach.yaml_reader.mapping_reader import Fields, Instead, Value
from coach.yaml_reader.nodes import Node, Scalar, Sequence
from coach.yaml_reader.scalars import SLOPE, choice, whole, word

Lie = Literal["level", "slant"]

LIES: Final[tuple[Lie, ...]] = ("level", "slant")
_LIE: Final[Value[Lie]] = choice(LIES)
ROLES: Final = {
    CLOVE: ("holder",),
    LARKS_HEAD: ("holder",),
    REVERSE_CLOVE: ("knotter",),
    REVERSE_LARKS_HEAD: ("knotter",),
    HALF_HITCH: ("holder", "knotter"),
}
OTHER_WAY: Final = {
    CLOVE: REVERSE_CLOVE,
    REVERSE_CLOVE: CLOVE,
    LARKS_HEAD: REVERSE_LARKS_HEAD,
    REVERSE_LARKS_HEAD: LARKS_HEAD,
}
_BOTH: Final = ("holder", "knotter")
_CROSSED: Final = dict.fromkeys(
    ("strands", "groups", "around"), Instead(("across",), "Write ‘across: {}’ instead.")
)
_WOVEN: Final = {
    **_CROSSED,
    **dict.fromkeys(_BOTH, Instead(("weave",), "")),
}
"""What other steps call the strands of a row, or of a weave."""
_COUNTED = re.compile(r"(?:([0-9]{1,9})\s+)?(.+)", re.DOTALL)


def knot_name(scalar: Scalar, found: Found, *, in_row: bool = False) -> str | None:
    """Return the first name of the knot that is written, or report that there is none."""
    knot = first_name(scalar.text, in_row=in_row)
    if knot is None:
        names = (*KNOTS, *SYNONYMS, *(ROW_SYNONYMS if in_row else ()))
        hint = found.suggest(plain(scalar.text), names, f"Knots are {listed(KNOTS)}.")
        found.error("KNOT", scalar.span, f"Unknown knot {quoted(scalar.text)}.", hint)
    return knot


def _row_knot(node: Node, found: Found) -> str | None:
    scalar = word(node, found, "a knot")
    knot = scalar and knot_name(scalar, found, in_row=True)
    if scalar is None or knot is None:
        return None
    if knot not in ROLES:
        hint = f"Write ‘knot: {knot}’, or make the row of clove hitches."
        found.error("KNOT", scalar.span, f"The {knot} does not make a row.", hint)
        return None
    return knot


_ROW_KNOT: Final = Value(_row_knot, "")


def row(fields: Fields, about: About, _: Known) -> Step:
    """Read `row: clove hitch`."""
    fields.instead = _CROSSED
    knot = fields.need("row", _ROW_KNOT)
    role = _role(fields, knot)
    mover = fields.need(role, POSITION) if role else POSITION.blank
    across = fields.need("across", POSITIONS)
    lie: Lie | Literal[""] = fields.get("lie", _LIE, "")
    slope_deg = fields.get("slope", SLOPE, None)
    if lie == "level" and slope_deg is not None:
        message = "A level row has no slope."
        fields.fail("EXCLUSIVE", fields.span("slope"), message, "Write ‘lie: slant’.")
    times = fields.get("times", whole(), 1)
    holds = role == "holder"
    return Row(about, mover, across, (knot,), holds, lie=lie, slope_deg=slope_deg, times=times)


def _role(fields: Fields, knot: str) -> str:
    """Return whether the mover is holder or knotter, and report what does not suit the knot."""
    suited = ROLES.get(knot, _BOTH)
    here = [role for role in _BOTH if role in fields.names]
    if not here:
        return fields.one_of(*suited)
    role = fields.one_of(*_BOTH)
    if role and role not in suited:
        does = "travels and knots" if role == "knotter" else "holds"
        message = f"In a row of the {knot} the strand that travels is the {suited[0]}."
        hint = f"Write ‘{suited[0]}:’, or where it {does} ‘row: {OTHER_WAY[knot]}’."
        fields.fail("ROLE", fields.span(role), message, hint)
    return role


def weave(fields: Fields, about: About, _: Known) -> Step:
    """Read `weave: 1`, a row whose picture shows in two colours."""
    fields.instead = _WOVEN
    mover = fields.need("weave", POSITION)
    across = fields.need("across", POSITIONS)
    knots = fields.need("knots", _WEAVE_KNOTS)
    if not fields.bad and not across.everything and len(knots) != len(across.items):
        message = f"{len(knots)} knots are given for {len(across.items)} strands."
        hint = f"Let the numbers add up to {len(across.items)}."
        fields.fail("COUNT", fields.value_span("knots"), message, hint)
    return Row(about, mover, across, knots, mover_holds=True, weave=True)


def _weave_knots(node: Node, found: Found) -> tuple[str, ...] | None:
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


def _some(item: Node, found: Found) -> tuple[int, str] | None:
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


_WEAVE_KNOTS: Final[Value[tuple[str, ...]]] = Value(_weave_knots, ())
