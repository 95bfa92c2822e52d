"""Declarations of kinds of step, and a reader for those that are just their keys."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any, TypeAlias

from coach.project.model import About, Step
from coach.yaml_reader.declarations import (
    NONE_INSTEAD,
    Entry,
    Instead,
    Key,
    Keys,
    Schema,
    every_key,
)
from coach.yaml_reader.mapping_reader import Fields

Reader: TypeAlias = Callable[[Fields, About], Step]
Shape: TypeAlias = tuple[Entry, ...]
"""The keys that can stand together in one step, in the manual's order."""


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of step.

    Attributes:
        read: Its reader.
        shapes: The keys that it can have, by the names that the schema has for such steps.
        also: What the schema says about all of them beside their keys.
    """

    read: Reader
    shapes: Mapping[str, Shape]
    also: Schema = field(default_factory=dict)


def simple_kind(
    name: str,
    make: Callable[..., Step],
    keys: Keys,
    *,
    judge: Callable[[Fields, Any], None] | None = None,
    instead: Mapping[str, Instead] = NONE_INSTEAD,
    before: Shape = (),
) -> Kind:
    """Declare a kind of step whose fields are its keys' values.

    Args:
        name: Its name in the schema.
        make: Make the step of its `About` and its keys' values, by field; with defaults for
            optional keys.
        keys: Its keys.
        judge: Report keys that do not go together.
        instead: What to write for keys that belong to other kinds of step.
        before: Keys read already to find out the kind of step.
    """

    def read(fields: Fields, about: About) -> Step:
        fields.instead = instead
        step = make(about, **fields.given(keys))
        if judge:
            judge(fields, step)
        return step

    return Kind(read, {name: (*before, *keys.values())})


def keys_of(shapes: Iterable[Shape]) -> dict[str, Key[Any]]:
    """Return all keys of some shapes, by name; of those that share one, the first."""
    found: dict[str, Key[Any]] = {}
    for shape in shapes:
        for key in every_key(shape):
            found.setdefault(key.name, key)
    return found
