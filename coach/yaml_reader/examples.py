"""What could stand behind a key that is left out, in the words and cords of the file."""

from typing import Final

from coach.yaml_reader.collector import Found

_VALUES: Final = {
    "coach": "1", "title": "My first strap", "diameter": "2 mm", "weight": "4 g/m", "holder": "1",
    "knotter": "1", "across": "2-4", "knots": "[3 clove hitch]", "strands": "1-4",
    "groups": "1-8 by 4", "around": "2-3", "turns": "3", "length": "3 cm", "of": "square knot",
    "rows": "4", "crossings": "30", "at": "1", "steps": "[{knot: square knot, strands: 1-4}]",
    "size": "8 mm", "leave": "2 cm", "times": "20", "uses": "26 cm", "knot": "clove hitch",
    "work": "[{knot: square knot, strands: 1-4}]",
}  # fmt: skip
_OF_SOME: Final = {
    ("a berry knot step", "of"): "3",
    ("a gathering knot step", "around"): "all",
    ("a barrel knot step", "strands"): "1",
    ("a braid step", "length"): "12 cm",
    ("a turn step", "around"): "pin",
}


def example(what: str, key: str, found: Found) -> str:
    """Return `key: value` as it could be written in `what`, such as "a net step"."""
    return f"{key}: {_value(what, key, found)}"


def _value(what: str, key: str, found: Found) -> str:
    if (what, key) in _OF_SOME:
        return _OF_SOME[what, key]
    if key in ("wrap", "cord"):
        return found.cord
    if key in ("nest", "hang") or (what, key) == ("the start", "strands"):
        return found.pieces
    if key == "part":
        return found.parts[0] if found.parts else "motif"
    if key == "cords":
        return f"{{{found.cord}: {{diameter: 2 mm}}}}"
    if key == "start":
        return f"{{nest: {found.pieces}}}"
    return _VALUES.get(key, "…")
