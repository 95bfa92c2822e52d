"""Colourways: the same piece in other colours, each by a name of the writer's."""

from collections.abc import Mapping as ByName
from types import MappingProxyType
from typing import Final, TypeAlias

from coach.project.readers.cords import NAME
from coach.project.readers.references import CORD
from coach.text import one_line, plain
from coach.yaml_reader.collector import Found
from coach.yaml_reader.declarations import Key, Value, may
from coach.yaml_reader.mapping_schema import OWN_NAME, by_name
from coach.yaml_reader.nodes import Mapping, Node, Scalar
from coach.yaml_reader.scalars import COLOUR

MOST: Final = 100
Colourways: TypeAlias = ByName[str, ByName[str, str]]
"""By name, the colour `#rrggbb` of each cord that has another one there, by the cord's name."""


def _colourways(node: Node, found: Found) -> Colourways | None:
    if not isinstance(node, Mapping):
        _no_list(node, found, "Colourways are listed by name.")
        return None
    if len(node.pairs) > MOST:
        message = f"There are more than {MOST} colourways."
        found.error("TOO-LARGE", node.span, message, "Keep the ones you use.")
    ways: dict[str, ByName[str, str]] = {}
    for key, value in node.pairs:
        if not plain(key.text):
            found.error("NAME", key.span, "A colourway needs a name.", "Write one before ‘:’.")
        ways[one_line(key.text)] = _colours(value, found)
    return MappingProxyType(ways)


def _colours(node: Node, found: Found) -> ByName[str, str]:
    if not isinstance(node, Mapping):
        _no_list(node, found, "A colourway lists cords and their colours.")
        return MappingProxyType({})
    read = [(CORD.read(key, found), COLOUR.read(value, found)) for key, value in node.pairs]
    colours = {cord: colour[0] for cord, colour in read if cord is not None and colour is not None}
    return MappingProxyType(colours)


def _no_list(node: Node, found: Found, message: str) -> None:
    if not (isinstance(node, Scalar) and node.broken):
        example = f'dusk: {{{found.a_cord}: "#41506b"}}'
        found.error("SHAPE", node.span, message, f"Write ‘{example}’.")


COLOURWAYS: Final[Key[Colourways]] = may(
    "colourways",
    Value(_colourways, MappingProxyType({}), by_name(by_name(COLOUR.schema, NAME, 0), OWN_NAME, 0)),
    "The same piece in other colours, by name: dusk: {reed: plum}.",
)
