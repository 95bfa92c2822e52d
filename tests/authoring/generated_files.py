"""Project files drawn at random: sound ones, and ones with a fault of writing in them."""

import copy
import json
import random
from typing import Any

STEPS: list[dict[str, Any]] = [
    {"row": "clove hitch", "holder": 1, "across": "2-4", "lie": "slant", "slope": "45°"},
    {"row": "Double-Half-Hitch", "holding cord": 4, "across": "3-1", "times": 2},
    {"row": "reverse clove hitch", "knotter": "4", "across": [3, 2, 1]},
    {"row": "half hitch", "knotter": 1, "across": 2},
    {"row": "vertical lark's head", "working cord": 1, "across": "all", "lie": "level"},
    {"weave": 1, "across": "2-4", "knots": ["2 clove hitch", "reverse clove hitch"]},
    {"knot": "square knot", "groups": "1-4 by 2", "times": 3},
    {"knot": "half knot", "strands": "1-4", "with": "clay"},
    {"knot": "half hitch chain", "strands": "1-2", "times": 9},
    {"knot": "josephine knot", "groups": ["1-4"]},
    {"knot": "josephine knot", "strands": "1-4", "size": "3 cm"},
    {"knot": "overhand knot", "strands": "all"},
    {"knot": "cow hitch", "knotter": 1, "around": "2-3", "times": 6},
    {"knot": "barrel knot", "knotter": 3, "around": "1-2", "turns": 4},
    {"knot": "barrel knot", "strands": 1, "turns": 4},
    {"knot": "wrapping knot", "wrap": "clay", "around": "all", "length": "3 cm"},
    {"knot": "half knot", "strands": "1-4", "times": "about 30"},
    {"knot": "barrel knot", "strands": 1, "turns": "4 or more"},
    {"braid": "1-3", "length": "12 cm or more"},
    {"space": "about 3 cm"},
    {"knot": "berry knot", "strands": "1-4", "of": 3},
    {"net": "1-4 by 2", "of": "flat knot", "rows": 2, "sides": "narrow", "gap": "1 cm"},
    {"braid": "1-3", "length": '1 1/2"'},
    {"plait": [1, "2-3", 4], "crossings": 30},
    {"turn": 4, "around": "pin"},
    {"turn": 4, "around": 3},
    {"cross": [3, 4, 1, 2]},
    {"space": "3 cm", "strands": "1-4"},
    {"space": "0 cm"},
    {"picot": "15 mm", "strands": [1, 4]},
    {"bead": "2-3", "size": "8 mm"},
    {"add": ["clay"], "at": 5, "onto": 4, "by": "lark's head", "fold": "none"},
    {"lay aside": 3, "leave": "12 cm"},
    {"take up": "reed.1a", "at": 1},
    {"flip": "piece"},
    {"seam": 3},
    {"each": "1-4 by 2", "steps": [{"do": "Look at it."}], "mirror": "every second"},
    {"each": "1-4 by 2", "steps": [{"do": "Look at it."}], "order": "any"},
    {"use": "motif", "times": 8, "mirror": "all", "returns": "after 4"},
    {
        "do": "Pin the fold.",
        "note once": "Now.",
        "takes": "1-2 min",
        "note": "Gently: now.",
        "name": "pin",
    },
    {"measure": "length", "expect": "7 cm"},
    {"wait": "1 h 10 min"},
    {"trim": "all", "leave": "1 cm", "middle": "4 cm"},
    {"row": "clove hitch", "holder": "ring", "across": "1-4", "diameter": "5 mm", "times": 2},
    {"row": "reverse clove hitch", "knotter": 1, "across": "2-4", "first": "over"},
    {"knot": "sea button", "groups": "1-4 by 4", "times": 2},
    {"flip": "End for end"},
    {"make": "handle"},
    {"attach": "handle", "at": [1, 4], "by": "looped", "layer": "behind", "adds": "length"},
    {"bring down": ["reed.1", "clay"], "at": 2},
    {"fold back": "1-4", "loop": "15 cm"},
]
BY_LONGEST: list[dict[str, Any]] = [
    {"knot": "half hitch", "knotter": "longest", "strands": "1-4", "times": 2},
    {"knot": "barrel knot", "knotter": "Longest", "strands": [1, 3], "turns": "about 4"},
]
"""Without their knotter these are other steps, and what they lack is told so."""

FILE: dict[str, Any] = {
    "coach": 1,
    "title": "Tide",
    "about": "For whom it is.",
    "kind": "wall hanging",
    "skill": "beginner",
    "surface": "board",
    "tools": ["scissors", "pins"],
    "findings": "a ring",
    "takes": "20-30 min",
    "cautions": [],
    "cords": {
        "reed": {"colour": "#5b7f3a", "fibre": "cotton", "diameter": "2 mm", "pieces": 2},
        "clay": {"colour": "Sienna", "diameter": "1/8 in", "fold": "middle", "tail": "12 cm"},
        "silt": {"weight": "250 m per kg", "pieces": 1, "tail": "0.1 fathom"},
    },
    "colourways": {"dusk": {"reed": "#41506b", "clay": "Plum"}},
    "start": {"hang": ["2 reed"], "on": "ring", "diameter": "3 mm", "by": "lark's head"},
    "knots": {
        "sea button": {
            "strands": 4,
            "uses": ["12 cm", "8 cm", "8 cm", "12 cm"],
            "size": "14 mm",
            "order": [3, 4, 1, 2],
            "passes": 6,
            "takes": "2 min",
            "how": ["Cross them.", "Pull."],
            "like": "berry knot",
            "measured in": "3 mm",
        }
    },
    "apart": {
        "handle": {
            "make": 2,
            "start": {"hang": ["clay"], "from": "middle", "round": "flat"},
            "work": [{"knot": "square knot", "strands": "all"}],
            "mirror": "every second",
        }
    },
    "margin": "10 %",
    "size": {"length": "18 cm", "wish": "20 cm", "vary": "motif", "least": 3, "step": 2},
    "measured": [
        {"part": "motif", "length": "16 mm", "uses": {"reed": "9 cm"}},
        {"knot": "clove hitch", "cord": "reed", "times": 20, "uses": "26 cm"},
    ],
}
NOISE: list[Any] = [
    "", "sideways", 0, -3, 7, "10,5 cm", "-2 cm", "0 mm", "12", "7 furlongs", [], {}, ["", 1],
    {"row": 1}, "1-4", "all", "9 %", "fold", [[1]], True, "5 min", "1 1/2 in", "#zzz", "45°",
    "by 4", "SQUARE knot", "squair knot", [1, 3], "4 reed", "reed.1", "after 0", "yes", "x" * 70,
    "level", "even", "fit", "washed", "every second", "sea button",
    "keeps", "end for end", "dowel", "laid in", "pinned", "width", "flat",
    "4 g/m", "1200 dtex", "85 m per 100 g", "1/2 oz / yd", "4 g per s", "2 fathoms", "500 g", "g/m",
]  # fmt: skip
NAMED = {"reed", "clay", "silt", "motif", "sea button", "handle"}
KEYS = [
    "times", "across", "holder", "note", "knott", "length", "strands", "groups", "row", "do",
    "mirror", "wrap", "around", "of", "steps", "lead", "colour", "on", "uses", "slope", "weight",
    "diameter",
]  # fmt: skip


def drawn(number: int) -> dict[str, Any]:
    """Return file number so and so: every second one has a fault or two of writing."""
    luck = random.Random(number)  # noqa: S311 - the same files each time
    whole = {
        key: copy.deepcopy(value)
        for key, value in FILE.items()
        if key in ("coach", "title", "cords", "start") or luck.random() < 0.5
    }
    whole["work"] = copy.deepcopy(luck.sample([*STEPS, *BY_LONGEST], luck.randint(1, 4)))
    whole["parts"] = {"motif": copy.deepcopy(luck.sample([*STEPS[:6], *STEPS[16:26]], 2))}
    for _ in range(luck.choice((0, 0, 1, 1, 2))):
        _spoil(whole, luck)
    return whole


def _spoil(whole: dict[str, Any], luck: random.Random) -> None:
    """Change one mapping somewhere: a value, a key more, a key less."""
    mapping = luck.choice(_mappings(whole))
    keys = list(mapping)
    how = luck.random()
    if how < 0.6 and keys:
        mapping[luck.choice(keys)] = copy.deepcopy(luck.choice(NOISE))
    elif how < 0.8:
        mapping[luck.choice(KEYS)] = copy.deepcopy(luck.choice(NOISE))
    elif keys:
        del mapping[luck.choice(keys)]


def _mappings(node: Any) -> list[dict[str, Any]]:
    """Return every mapping of a file but those whose keys are names."""
    if isinstance(node, list):
        return [found for item in node for found in _mappings(item)]
    if not isinstance(node, dict):
        return []
    inside = [found for value in node.values() for found in _mappings(value)]
    return (
        inside
        if set(node) <= {"reed", "clay", "silt", "motif", "sea button", "handle"}
        else [node, *inside]
    )


def text_of(whole: dict[str, Any]) -> str:
    """Return a file's text; JSON is YAML."""
    return json.dumps(whole, indent=1, ensure_ascii=False)
