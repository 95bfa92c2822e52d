"""Open figures, which leave a choice to the maker: `about 30`, `4 or more`, the longest strand."""

import re
from collections.abc import Mapping
from dataclasses import replace
from typing import Any, Final, Literal, TypeVar

from coach.project.step_basics import Openness
from coach.text import normalized_name
from coach.yaml_reader.collector import ReadingProblems
from coach.yaml_reader.declarations import Key, Schema, Value, must
from coach.yaml_reader.mapping_reader import Fields
from coach.yaml_reader.nodes import Node, Scalar
from coach.yaml_reader.scalars import choice
from coach.yaml_reader.value_schemas import in_any_case

T = TypeVar("T")

_ABOUT: Final = re.compile(r"\s*about\s+(\S.*)", re.IGNORECASE | re.DOTALL)
_MORE: Final = re.compile(r"(.*\S)\s+or[\s_\u2010\u2011-]+more\s*", re.IGNORECASE | re.DOTALL)
_WHATS: Final[Mapping[str, Literal["times", "turns", "length"]]] = {
    "times": "times", "turns": "turns", "length": "length", "space": "length", "picot": "length",
    "loop": "length",
}  # fmt: skip
LONGEST: Final = must(
    "knotter",
    choice(("longest",)),
    "Position of the strand that ties onto the others, or longest: the one with most left.",
    "longest",
)
"""The knotter where the strand with most left does it."""


def is_longest(fields: Fields) -> bool:
    """Return whether a step lets the longest strand tie: by a word that is no position."""
    written = normalized_name(fields.written("knotter"))
    meant = "strands" in fields.names and "around" not in fields.names and written
    return written == "longest" or bool(meant and not written[:1].isdigit())


def left_open(fields: Fields) -> tuple[Openness, ...]:
    """Return what a step leaves open, by how its figures are written."""
    found: list[Openness] = []
    for key, what in _WHATS.items():
        written = fields.written(key)
        if written and (said := _openness(written)[1]):
            found.append((what, said))
    return (
        *found,
        *(
            (("knotter", "about"),)
            if normalized_name(fields.written("knotter")) == "longest"
            else ()
        ),
    )


def _openness(text: str) -> tuple[str, Literal["", "about", "more"]]:
    """Return a figure without the words that leave it open, and which words those are."""
    about, more = _ABOUT.fullmatch(text), _MORE.fullmatch(text)
    if about:
        return about[1], "about"
    return (more[1], "more") if more else (text, "")


def is_open_figure(text: str) -> bool:
    """Return whether a figure is written as an open one."""
    return bool(_openness(text)[1])


def open_value(value: Value[T]) -> Value[T]:
    """Return a reader that also accepts `about …` and `… or more`."""

    def read(node: Node, found: ReadingProblems) -> T | None:
        if isinstance(node, Scalar):
            node = replace(node, text=_openness(node.text)[0])
        return value.read(node, found)

    return replace(value, read=read, schema=_schema(value.schema))


def open_key(key: Key[T]) -> Key[T]:
    """Return a key that also accepts open figures."""
    return replace(key, value=open_value(key.value))


def _schema(figure: Schema) -> Schema:
    """Return the schema of a figure with its open forms."""
    inside = next(_patterns(figure))[1:-1]
    ahead = re.match(r"(?:\(\?=.*?\]\))*", inside)
    first = ahead[0] if ahead else ""
    rest = inside[len(first) :]
    more = rf"^{first}(?:\s*{in_any_case('about')}\s+{rest}|{rest}\s+{in_any_case('or more')}\s*)$"
    return {"anyOf": [figure, {"type": "string", "pattern": more}]}


def _patterns(schema: Any) -> Any:
    """Yield the patterns of a schema and of its alternatives."""
    if "pattern" in schema:
        yield schema["pattern"]
    for one in schema.get("anyOf", ()):
        yield from _patterns(one)
