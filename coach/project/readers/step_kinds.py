"""What a kind of step is declared by, and how one that its keys alone make up is read."""

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
        read: How one is read.
        shapes: The keys that it can have, by the names that the schema has for such steps.
        also: What the schema says of all of them beside their keys.
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
    """Declare a kind of step that is no more than what stands at its keys.

    Args:
        name: What the schema calls it.
        make: Makes the step of its `About` and of what stands at the keys, by their fields; it
            has the defaults for what is left out.
        keys: Its keys.
        judge: Reports what the keys say that does not go together.
        instead: What other kinds of step call something that this one has too.
        before: Keys that have told what kind of step it is, and are read by then.
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
