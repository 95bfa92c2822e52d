"""Format 1 as a JSON Schema (draft 2020-12), for editors that complete and check as one writes.

It says which keys and words can stand where. What the words mean together (that a cord is listed,
that strands stand where a row goes) only reader and board can tell. Keys are given by their first
names; the reader also takes them in other cases and with hyphens.
"""

from collections.abc import Mapping
from typing import Any, Final

from coach.knots import names
from coach.project.readers.cords import FOLDS, MOST_PIECES
from coach.project.readers.flow import WHATS
from coach.project.readers.header import KINDS, SKILLS
from coach.project.readers.knots_tied import MOST_TURNS
from coach.project.readers.piece_lists import WAYS
from coach.project.readers.rows import LIES
from coach.project.readers.shapes import SIDES
from coach.project.readers.size import STATES
from coach.project.readers.start import PLACES
from coach.project.readers.work_steps import MIRRORS
from coach.project.schema import value_schemas as v
from coach.project.schema.key_help import SAID
from coach.yaml_reader.mapping_reader import SYNONYMS

Schema = dict[str, Any]
Keys = Mapping[str, Schema]

_OTHERS: Final = {
    first: [other for other, known in SYNONYMS.items() if known == first]
    for first in SYNONYMS.values()
}
_NO_LETTER: Final = r".,:;!?()\[\]{}#%&*+/<=>@\\^`|~$" + '"'
_CORD_NAME: Final = rf"^\s*[^\s\d_'{_NO_LETTER}-][^{_NO_LETTER}]*$"
"""A letter of any script first; without letter classes, which differ from language to language."""
_ABOUT: Final[Keys] = {"note": v.TEXT, "name": v.TEXT, "takes": v.TIMES}
_STEPS: Final[Schema] = {"$ref": "#/$defs/steps"}
_TIMES: Final[Keys] = {"times": v.whole()}
_WAY: Final = v.words([*WAYS, "cow hitch", "vertical lark's head"])
_WAY_IN: Final = v.words([*WAYS, "cow hitch", "vertical lark's head", "laid in"])


def schema() -> Schema:
    """Return the schema of a whole project file."""
    top: Keys = {
        "coach": {"anyOf": [{"const": 1}, {"const": "1"}]},
        "title": v.TEXT,
        "about": v.TEXT,
        "kind": v.words(KINDS),
        "skill": v.words(SKILLS),
        "surface": v.TEXT,
        "tools": v.TEXTS,
        "findings": v.TEXTS,
        "takes": v.TIMES,
        "cautions": v.TEXTS,
        "cords": _by_name(_cord(), _CORD_NAME, 1),
        "colourways": _by_name(_by_name(v.COLOUR, _CORD_NAME, 0), r"[^\s_\u2010\u2011-]", 0),
        "start": _start(),
        "margin": v.SHARE,
        "work": _STEPS,
        "parts": _by_name(_STEPS, r"[^\s_\u2010\u2011-]", 0),
        "size": _size(),
        "measured": {"type": "array", "items": {"anyOf": [_part_measured(), _swatch()]}},
    }
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "A project of knotted cord work, format 1",
        **_mapping(top, "coach", "title", "cords", "start", "work"),
        "$defs": {
            "steps": {"type": "array", "items": {"$ref": "#/$defs/step"}, "minItems": 1},
            "step": {"anyOf": [{"$ref": f"#/$defs/{name}"} for name in _kinds()]},
            **_kinds(),
        },
    }


def _mapping(keys: Keys, *needed: str, one_of: tuple[str, ...] = ()) -> Schema:
    """Return a mapping with these keys and no others; `one_of` are keys of which one must stand."""
    properties: Schema = {}
    demands: list[Schema] = []
    for key, value in keys.items():
        spellings = [key, *_OTHERS.get(key, ())]
        said = {"description": SAID[key]} if key in SAID else {}
        properties |= {spelling: {**value, **said} for spelling in spellings}
        if key in needed and len(spellings) > 1:
            demands.append(_exactly_one(spellings))
        elif len(spellings) > 1:
            demands.append(_at_most_one(spellings))
    if one_of:
        demands.append(_exactly_one([s for key in one_of for s in (key, *_OTHERS.get(key, ()))]))
    return {
        "type": "object",
        "properties": properties,
        "required": [key for key in needed if key not in _OTHERS],
        "additionalProperties": False,
        **({"allOf": demands} if demands else {}),
    }


def _exactly_one(keys: list[str]) -> Schema:
    return {"oneOf": [{"required": [key]} for key in keys]}


def _at_most_one(keys: list[str]) -> Schema:
    none = {"not": {"anyOf": [{"required": [key]} for key in keys]}}
    return {"oneOf": [*({"required": [key]} for key in keys), none]}


def _by_name(value: Schema, name: str, least: int) -> Schema:
    return {
        "type": "object",
        "propertyNames": {"pattern": name},
        "additionalProperties": value,
        "minProperties": least,
    }


def _cord() -> Schema:
    keys: Keys = {
        "colour": v.COLOUR,
        "fibre": v.TEXT,
        "diameter": v.THICKNESS,
        "weight": v.FINENESS,
        "pieces": v.whole(1, MOST_PIECES),
        "fold": v.words(FOLDS),
        "tail": v.LENGTH,
        "lead": v.LENGTH,
    }
    return _some_of(_mapping(keys), "diameter", "weight")


def _start() -> Schema:
    keys: Keys = {
        "nest": v.PIECES,
        "hang": v.PIECES,
        "strands": v.NUMBERED,
        "on": v.words(PLACES),
        "diameter": v.THICKNESS,
        "by": _WAY,
        "round": v.BOOLEAN,
        "before fold": _STEPS,
    }
    return _mapping(keys, one_of=("nest", "hang", "strands"))


def _size() -> Schema:
    keys: Keys = {
        "length": v.THICKNESS,
        "wish": v.THICKNESS,
        "state": v.words(STATES),
        "vary": v.TEXT,
        "least": v.whole(),
        "step": v.whole(),
        "closing": v.LENGTH,
    }
    return {**_mapping(keys), "minProperties": 1}


def _some_of(mapping: Schema, *keys: str) -> Schema:
    """Ask that at least one of some keys stands in a mapping."""
    return {**mapping, "anyOf": [{"required": [key]} for key in keys]}


def _part_measured() -> Schema:
    uses = {"type": "object", "additionalProperties": v.LENGTH}
    keys: Keys = {"part": v.TEXT, "length": v.LENGTH, "uses": uses}
    return _some_of(_mapping(keys, "part"), "uses", "length")


def _swatch() -> Schema:
    keys: Keys = {
        "knot": v.knots(names.KNOTS, row=True),
        "cord": v.TEXT,
        **_TIMES,
        "uses": v.LENGTH,
        "length": v.LENGTH,
    }
    return _some_of(_mapping(keys, "knot", "cord", "times"), "uses", "length")


def _step(keys: Keys, *needed: str, one_of: tuple[str, ...] = ()) -> Schema:
    return _mapping({**keys, **_ABOUT}, *needed, one_of=one_of)


def _row(knot: str, *roles: str) -> Schema:
    lying = {"across": v.POSITIONS, "lie": v.words(LIES), "slope": v.SLOPE, **_TIMES}
    movers = dict.fromkeys(roles, v.POSITION)
    keys: Keys = {"row": v.knots((knot,), row=True), **movers, **lying}
    step = _step(keys, "row", "across", one_of=roles)
    level = {"required": ["lie", "slope"], "properties": {"lie": v.words(("level",))}}
    return {**step, "not": level}


def _weave() -> Schema:
    knots = v.knots((names.CLOVE, names.REVERSE_CLOVE))
    some = v.pattern(rf"\s*(?:0*[1-9][0-9]{{0,3}}\s+)?{knots['anyOf'][1]['pattern'][1:-1]}")
    keys: Keys = {"weave": v.POSITION, "across": v.POSITIONS, "knots": v.listed(some, least=0)}
    return _step(keys, *keys)


def _group_knot(knots: tuple[str, ...], extra: Keys, *needed: str) -> Schema:
    keys = {"knot": v.knots(knots), "strands": v.POSITIONS, "groups": v.GROUPS, **_TIMES, **extra}
    return _step(keys, "knot", *needed, one_of=("strands", "groups"))


def _barrel(mover: str, *others: str) -> Schema:
    keys: Keys = {
        "knot": v.knots((names.BARREL,)),
        mover: v.POSITION,
        **dict.fromkeys(others, v.POSITIONS),
        **_TIMES,
        "turns": v.whole(1, MOST_TURNS),
    }
    return _step(keys, "knot", mover, *others, "turns")


def _knot_kinds() -> dict[str, Schema]:
    flat = tuple(names.FLAT_KNOTS)
    bundles = (*names.BUNDLE_KNOTS, names.JOSEPHINE, names.CHAIN)
    around: Keys = {
        "knot": v.knots(tuple(names.AROUND_KNOTS)),
        "knotter": v.POSITION,
        "around": v.POSITIONS,
        **_TIMES,
    }
    gathering: Keys = {
        "knot": v.knots((names.GATHERING,)),
        "wrap": v.TEXT,
        "around": v.POSITIONS,
        "length": v.THICKNESS,
    }
    return {
        "flat knot": _group_knot(flat, {"with": v.TEXT}),
        "bundle knot": _group_knot(bundles, {}),
        "berry knot": _group_knot((names.BERRY,), {"of": v.whole()}, "of"),
        "knot around": _step(around, "knot", "knotter", "around"),
        "barrel knot": _barrel("knotter", "around"),
        "barrel knot on itself": _barrel("strands"),
        "gathering knot": _step(gathering, *gathering),
    }


def _kinds() -> dict[str, Schema]:
    """Return every kind of step, knots by the keys that they need."""
    return {
        "clove hitch row": _row(names.CLOVE, "holder"),
        "lark's head row": _row(names.LARKS_HEAD, "holder"),
        "reverse clove hitch row": _row(names.REVERSE_CLOVE, "knotter"),
        "reverse lark's head row": _row(names.REVERSE_LARKS_HEAD, "knotter"),
        "half hitch row": _row(names.HALF_HITCH, "holder", "knotter"),
        "weave": _weave(),
        **_knot_kinds(),
        **_shape_kinds(),
        **_move_kinds(),
    }


def _shape_kinds() -> dict[str, Schema]:
    net: Keys = {
        "net": v.GROUPS,
        "of": v.knots(names.FLAT_KNOTS),
        "rows": v.whole(),
        "sides": v.words(SIDES),
        "gap": v.LENGTH,
    }
    braid: Keys = {"braid": v.BUNDLES, "length": v.THICKNESS, "crossings": v.whole()}
    around = {"anyOf": [*v.POSITION["anyOf"], v.words(("pin",))]}
    turn: Keys = {"turn": v.POSITION, "around": around}
    space: Keys = {"space": v.LENGTH, "strands": v.POSITIONS, "groups": v.GROUPS}
    either = {"not": {"required": ["strands", "groups"]}}
    return {
        "net": _step(net, "net", "of", "rows"),
        "braid": _step(braid, "braid", one_of=("length", "crossings")),
        "turn": _step(turn, *turn),
        "cross": _step({"cross": v.POSITIONS}, "cross"),
        "space": {**_step(space, "space"), **either},
        "picot": _step({"picot": v.THICKNESS, "strands": v.POSITIONS}, "picot", "strands"),
        "bead": _step({"bead": v.POSITIONS, "size": v.THICKNESS}, "bead", "size"),
    }


def _move_kinds() -> dict[str, Schema]:
    mirror = {"mirror": v.words(MIRRORS)}
    add: Keys = {
        "add": v.PIECES,
        "at": v.POSITION,
        "onto": v.POSITION,
        "by": _WAY_IN,
        "fold": v.words(FOLDS),
    }
    each: Keys = {"each": v.GROUPS, "steps": _STEPS, **mirror}
    use: Keys = {"use": v.TEXT, **_TIMES, **mirror, "returns": v.RETURNS}
    trim: Keys = {"trim": v.POSITIONS, "leave": v.LENGTH, "middle": v.LENGTH}
    return {
        "add": _step(add, "add", "at"),
        "lay aside": _step({"lay aside": v.POSITIONS, "leave": v.LENGTH}, "lay aside"),
        "take up": _step({"take up": v.STRANDS, "at": v.POSITION}, "take up", "at"),
        "flip": _step({"flip": v.words(("piece",))}, "flip"),
        "seam": _step({"seam": v.POSITION}, "seam"),
        "each": _step(each, "each", "steps"),
        "use": _step(use, "use"),
        "do": _step({"do": v.TEXT}, "do"),
        "measure": _step({"measure": v.words(WHATS), "expect": v.LENGTH}, "measure"),
        "wait": _step({"wait": v.TIME}, "wait"),
        "trim": _step(trim, "trim", "leave"),
    }
