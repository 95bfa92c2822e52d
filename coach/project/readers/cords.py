"""The readers of cords, and of colourways: the same piece in other colours."""

import re
from collections.abc import Mapping as ByName
from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import Final, TypeAlias

from coach.project.model import Cord
from coach.project.readers.common_keys import CORD, FOLDED
from coach.quantities import diameter_of_mm, show_fineness
from coach.text import normalized_name, one_line
from coach.yaml_reader.collector import Names, ReadingProblems, quoted
from coach.yaml_reader.colours import spare_colours
from coach.yaml_reader.declarations import Key, Keys, Value, may, must
from coach.yaml_reader.expected import by_own_names, report_other
from coach.yaml_reader.mapping_reader import Fields
from coach.yaml_reader.mapping_schema import OWN_NAME, by_name, mapping, some_of
from coach.yaml_reader.nodes import Mapping, Node, Scalar
from coach.yaml_reader.scalars import COLOUR, FINENESS, LENGTH, TEXT, THICKNESS, whole_number

MOST_PIECES: Final = 5_000
_FAR_OFF: Final = 2.0  # times as thick as its weight says: no braid is so hollow or so hard

_ID = re.compile("[^\\W\\d_][\\w '\u2019-]{0,39}")

_COLOUR: Final = may(
    "colour",
    COLOUR,
    'A CSS colour name, or "#5b7f3a" in quotes; left out, one is picked to draw.',
)
_FIBRE: Final = may("fibre", TEXT, "What the cord is made of; left out, it is never mentioned.")
_DIAMETER: Final = may(
    "diameter", THICKNESS, "How thick it is; may be left out where its weight is given.", "2 mm"
)
_WEIGHT: Final = may(
    "weight",
    FINENESS,
    "What it weighs for its length: 4 g/m, 1200 tex, 210 denier or 250 m per kg.",
    "4 g/m",
)
_STRANDS: Final[Keys] = {
    "pieces": may(
        "pieces",
        whole_number(1, MOST_PIECES),
        "How many pieces of it are cut; left out, they are counted from the work.",
    ),
    "fold": FOLDED,
}
_ENDS: Final[Keys] = {
    "tail_mm": may("tail", LENGTH, "What must be left below the last knot; 10 cm if left out."),
    "lead_mm": may("lead", LENGTH, "The free end above the first knot of a cord with fold: none."),
}
KEYS: Final = (
    _COLOUR, _FIBRE, _DIAMETER, _WEIGHT, *_STRANDS.values(), *_ENDS.values(),
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Cords:
    """The cords by id, in order; `sound` if the number of strands of each could be read."""

    by_id: ByName[str, Cord]
    sound: bool


def _cords(node: Node, found: ReadingProblems) -> Cords | None:
    if not isinstance(node, Mapping) or not node.pairs:
        hint = "Write a name and what it is, as in ‘reed: {colour: green, diameter: 2 mm}’."
        report_other(node, found, "At least one cord is needed, by name.", hint)
        return None
    read = [_listed(key, value, found) for key, value in node.pairs]
    by_id = _coloured({cord.id: cord for cord, _ in read})
    found.cords = Names(by_id)
    found.pieces = {name: cord.pieces for name, cord in by_id.items()}
    return Cords(MappingProxyType(by_id), all(sound for _, sound in read))


def _coloured(cords: dict[str, Cord]) -> dict[str, Cord]:
    """Choose a colour that no other cord has for each cord without one."""
    spare = spare_colours([cord.colour for cord in cords.values() if cord.colour])
    return {
        name: cord if cord.colour else replace(cord, colour=next(spare))
        for name, cord in cords.items()
    }


def _listed(key: Scalar, value: Node, found: ReadingProblems) -> tuple[Cord, bool]:
    """Read one cord, and return whether the number of its strands is known."""
    name = key.text.strip()
    sound = bool(_ID.fullmatch(name))
    if not sound:
        hint = "Begin with a letter; go on with letters, figures and spaces, but no full stops."
        found.error("NAME", key.span, f"{quoted(name)} cannot name a cord.", hint)
    if isinstance(value, Mapping):
        cord, counted = _cord(name, key, Fields(value, found, "a cord"))
        return cord, sound and counted
    hint = f"Write ‘{name}: {{colour: green, diameter: 2 mm}}’."
    report_other(value, found, "A cord is described by its keys.", hint)
    return Cord(name, key.span, "#808080", "", "", 1.0, None), False


def _cord(name: str, key: Scalar, fields: Fields) -> tuple[Cord, bool]:
    strands = fields.given(_STRANDS)
    counted = not fields.bad  # a grey cord of 1 mm can be followed through the work as well
    colour, colour_name = fields.take(_COLOUR, ("", ""))
    fibre = fields.take(_FIBRE, "")
    diameter_mm = fields.take(_DIAMETER, None)
    fineness_tex = fields.take(_WEIGHT, None)
    fields.some_of(_DIAMETER, _WEIGHT)
    cord = Cord(
        id=name,
        span=key.span,
        colour=colour,
        colour_name=colour_name,
        fibre=fibre,
        diameter_mm=diameter_mm or _estimated_mm(fineness_tex, fibre),
        fineness_tex=fineness_tex,
        estimated=diameter_mm is None,
        **strands,
        **fields.given(_ENDS),
    )
    fields.finish()
    if fineness_tex and diameter_mm and not fields.bad:
        _hold_against_weight(cord, _estimated_mm(fineness_tex, fibre), fields)
    if "lead" in fields.names and cord.fold != "none":
        hint = "Add ‘fold: none’, or leave the lead out."
        message = "A lead only counts on a cord that is not folded."
        fields.found.warn("PIECES", fields.span("lead"), message, hint)
    return cord, counted


def _estimated_mm(fineness_tex: float | None, fibre: str) -> float:
    """Return a cord's thickness from its weight, to two figures, since it is an estimate.

    1 mm, in which the work can be followed, stands in for a cord that could not be read.
    """
    return float(f"{diameter_of_mm(fineness_tex, fibre):.2g}") if fineness_tex else 1.0


def _hold_against_weight(cord: Cord, likely_mm: float, fields: Fields) -> None:
    """Warn of a weight so far off the thickness that a unit or figure is probably wrong."""
    if not 1 / _FAR_OFF < cord.diameter_mm / likely_mm < _FAR_OFF:
        weighs = show_fineness(cord.fineness_tex or 0.0)
        message = (
            f"A cord of {weighs} is about {likely_mm:g} mm thick, not {cord.diameter_mm:g} mm."
        )
        hint = "Check both. 1 tex is a gram a kilometre; 1 dtex is a tenth of that."
        fields.found.warn("WEIGHT", fields.span("weight"), message, hint)


_NO_LETTER: Final = r".,:;!?()\[\]{}#%&*+/<=>@\\^`|~$" + '"'
NAME: Final = rf"^\s*[^\s\d_'{_NO_LETTER}-][^{_NO_LETTER}]*$"
"""A letter of any script first; without letter classes, which differ from language to language."""

CORDS: Final = must(
    "cords",
    Value(
        _cords,
        Cords(MappingProxyType({}), sound=False),
        by_name(some_of(mapping(KEYS), _DIAMETER, _WEIGHT), NAME, 1),
    ),
    "The cords, by names of your own.",
    lambda found: f"{{{found.a_cord}: {{diameter: 2 mm}}}}",
)


MOST: Final = 100
Colourways: TypeAlias = ByName[str, ByName[str, str]]
"""By name, the colour `#rrggbb` of each cord that has another one there, by the cord's name."""


def _colourways(node: Node, found: ReadingProblems) -> Colourways | None:
    other = "Colourways are listed by name.", _example(found)
    too_many = f"There are more than {MOST} colourways.", "Keep the ones you use."
    pairs = by_own_names(node, found, other, MOST, too_many)
    if pairs is None:
        return None
    ways: dict[str, ByName[str, str]] = {}
    for key, value in pairs:
        if not normalized_name(key.text):
            found.error("NAME", key.span, "A colourway needs a name.", "Write one before ‘:’.")
        ways[one_line(key.text)] = _colours(value, found)
    return MappingProxyType(ways)


def _colours(node: Node, found: ReadingProblems) -> ByName[str, str]:
    if not isinstance(node, Mapping):
        report_other(node, found, "A colourway lists cords and their colours.", _example(found))
        return MappingProxyType({})
    read = [(CORD.read(key, found), COLOUR.read(value, found)) for key, value in node.pairs]
    colours = {cord: colour[0] for cord, colour in read if cord is not None and colour is not None}
    return MappingProxyType(colours)


def _example(found: ReadingProblems) -> str:
    return f'Write ‘dusk: {{{found.a_cord}: "#41506b"}}’.'


COLOURWAYS: Final[Key[Colourways]] = may(
    "colourways",
    Value(_colourways, MappingProxyType({}), by_name(by_name(COLOUR.schema, NAME, 0), OWN_NAME, 0)),
    "The same piece in other colours, by name: dusk: {reed: plum}.",
)
