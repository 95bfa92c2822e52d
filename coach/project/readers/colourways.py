"""The reader of colourways: the same piece in other colours, each under a name."""

from collections.abc import Mapping as ByName
from types import MappingProxyType
from typing import Final, TypeAlias

from coach.project.readers.cords import NAME
from coach.project.readers.references import CORD
from coach.text import one_line, plain
from coach.yaml_reader.collector import ReadingProblems
from coach.yaml_reader.declarations import Key, Value, may
from coach.yaml_reader.expected import by_own_names, report_other
from coach.yaml_reader.mapping_schema import OWN_NAME, by_name
from coach.yaml_reader.nodes import Mapping, Node
from coach.yaml_reader.scalars import COLOUR

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
        if not plain(key.text):
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
