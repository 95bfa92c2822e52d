"""The cords of a project."""

import re
from collections.abc import Mapping as Names
from dataclasses import replace
from types import MappingProxyType
from typing import Final

from coach.project.model import Cord, Fold
from coach.quantities import diameter_of_mm, show_fineness
from coach.yaml_reader.collector import Found, quoted
from coach.yaml_reader.colours import spare_colours
from coach.yaml_reader.mapping_reader import Fields, Value
from coach.yaml_reader.nodes import Mapping, Node, Scalar
from coach.yaml_reader.scalars import COLOUR, FINENESS, LENGTH, TEXT, THICKNESS, choice, whole

MOST_PIECES: Final = 5_000
FOLDS: Final[tuple[Fold, ...]] = ("middle", "fit", "none")
FOLD: Final[Value[Fold]] = choice(FOLDS)
_FAR_OFF: Final = 2.0  # times as thick as its weight says: no braid is so hollow or so hard

_ID = re.compile("[^\\W\\d_][\\w '\u2019-]{0,39}")


class Cords:
    """The cords by their ids; `sound` if how many strands each gives could be read."""

    def __init__(self) -> None:
        self.sound = True
        self._by_id: dict[str, Cord] = {}

    @property
    def by_id(self) -> Names[str, Cord]:
        """The cords, in the order written."""
        return MappingProxyType(self._by_id)

    def read(self, node: Node, found: Found) -> bool | None:
        """Take every cord that is listed under `cords:`; None if there is none."""
        if not isinstance(node, Mapping) or not node.pairs:
            if not (isinstance(node, Scalar) and node.broken):
                hint = "Write a name and what it is, as in ‘reed: {colour: green, diameter: 2 mm}’."
                found.error("SHAPE", node.span, "At least one cord is needed, by name.", hint)
            self.sound = False
            return None
        for key, value in node.pairs:
            self._take(key, value, found)
        self._colour_the_rest()
        found.cords = tuple(self._by_id)
        return True

    def _colour_the_rest(self) -> None:
        """Draw each cord whose colour is left out in one that no other cord of the file has."""
        spare = spare_colours([cord.colour for cord in self._by_id.values() if cord.colour])
        for name, cord in self._by_id.items():
            if not cord.colour:
                self._by_id[name] = replace(cord, colour=next(spare))

    def _take(self, key: Scalar, value: Node, found: Found) -> None:
        name = key.text.strip()
        if not _ID.fullmatch(name):
            hint = "Begin with a letter; go on with letters, figures and spaces, but no full stops."
            found.error("NAME", key.span, f"{quoted(name)} cannot name a cord.", hint)
            self.sound = False
        if not isinstance(value, Mapping):
            if not (isinstance(value, Scalar) and value.broken):
                hint = f"Write ‘{name}: {{colour: green, diameter: 2 mm}}’."
                found.error("SHAPE", value.span, "A cord is described by its keys.", hint)
            self.sound = False
            self._by_id[name] = Cord(name, key.span, "#808080", "", "", 1.0, None)
        else:
            self._by_id[name] = self._cord(name, key, Fields(value, found, "a cord"))

    def _cord(self, name: str, key: Scalar, fields: Fields) -> Cord:
        pieces = fields.get("pieces", whole(1, MOST_PIECES), None)
        fold: Fold = fields.get("fold", FOLD, "middle")
        # a grey cord of 1 mm can be followed through the work as well: only these two matter
        self.sound = self.sound and not fields.bad
        colour, colour_name = fields.get("colour", COLOUR, ("", ""))
        fibre = fields.get("fibre", TEXT, "")
        diameter_mm = fields.get("diameter", THICKNESS, None)
        fineness_tex = fields.get("weight", FINENESS, None)
        fields.some_of("diameter", "weight")
        cord = Cord(
            id=name,
            span=key.span,
            colour=colour,
            colour_name=colour_name,
            fibre=fibre,
            diameter_mm=diameter_mm or _estimated_mm(fineness_tex, fibre),
            pieces=pieces,
            fold=fold,
            tail_mm=fields.get("tail", LENGTH, 100.0),
            lead_mm=fields.get("lead", LENGTH, 0.0),
            fineness_tex=fineness_tex,
            estimated=diameter_mm is None,
        )
        fields.finish()
        if fineness_tex and diameter_mm and not fields.bad:
            _hold_against_weight(cord, _estimated_mm(fineness_tex, fibre), fields)
        if "lead" in fields.names and cord.fold != "none":
            hint = "Add ‘fold: none’, or leave the lead out."
            message = "A lead only counts on a cord that is not folded."
            fields.found.warn("PIECES", fields.span("lead"), message, hint)
        return cord


def _estimated_mm(fineness_tex: float | None, fibre: str) -> float:
    """Return a cord's thickness by its weight: two figures, for an estimate has no more.

    1 mm, in which the work can be followed, stands in for a cord that could not be read.
    """
    return float(f"{diameter_of_mm(fineness_tex, fibre):.2g}") if fineness_tex else 1.0


def _hold_against_weight(cord: Cord, likely_mm: float, fields: Fields) -> None:
    """Warn of a weight that some other unit or figure was probably meant for."""
    if not 1 / _FAR_OFF < cord.diameter_mm / likely_mm < _FAR_OFF:
        weighs = show_fineness(cord.fineness_tex or 0.0)
        message = (
            f"A cord of {weighs} is about {likely_mm:g} mm thick, not {cord.diameter_mm:g} mm."
        )
        hint = "Check both. 1 tex is a gram a kilometre; 1 dtex is a tenth of that."
        fields.found.warn("WEIGHT", fields.span("weight"), message, hint)
