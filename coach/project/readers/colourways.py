"""Colourways: the same piece in other colours, each by a name of the writer's."""

from collections.abc import Mapping as Names
from types import MappingProxyType
from typing import Final, TypeAlias

from coach.knots.names import plain
from coach.project.readers.references import Known
from coach.text import one_line
from coach.yaml_reader.collector import Found
from coach.yaml_reader.mapping_reader import Value
from coach.yaml_reader.nodes import Mapping, Node, Scalar
from coach.yaml_reader.scalars import COLOUR

MOST: Final = 100
Colourways: TypeAlias = Names[str, Names[str, str]]
"""By name, the colour `#rrggbb` of each cord that has another one there, by the cord's name."""


def colourways(known: Known) -> Value[Colourways]:
    """Read `colourways:`, a mapping of names to mappings of cords to colours."""

    def read(node: Node, found: Found) -> Colourways | None:
        if not isinstance(node, Mapping):
            _no_list(node, found, "Colourways are listed by name.")
            return None
        if len(node.pairs) > MOST:
            message = f"There are more than {MOST} colourways."
            found.error("TOO-LARGE", node.span, message, "Keep the ones you use.")
        ways: dict[str, Names[str, str]] = {}
        for key, value in node.pairs:
            if not plain(key.text):
                found.error("NAME", key.span, "A colourway needs a name.", "Write one before ‘:’.")
            ways[one_line(key.text)] = _cords(value, found, known)
        return MappingProxyType(ways)

    return Value(read, MappingProxyType({}))


def _cords(node: Node, found: Found, known: Known) -> Names[str, str]:
    if not isinstance(node, Mapping):
        _no_list(node, found, "A colourway lists cords and their colours.")
        return MappingProxyType({})
    read = [(known.cord.read(key, found), COLOUR.read(value, found)) for key, value in node.pairs]
    colours = {cord: colour[0] for cord, colour in read if cord is not None and colour is not None}
    return MappingProxyType(colours)


def _no_list(node: Node, found: Found, message: str) -> None:
    if not (isinstance(node, Scalar) and node.broken):
        example = f'dusk: {{{found.cord}: "#41506b"}}'
        found.error("SHAPE", node.span, message, f"Write ‘{example}’.")
