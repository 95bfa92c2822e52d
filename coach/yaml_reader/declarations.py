"""Declarations of a mapping's keys, shared by its reader, the schema and the manual."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Any, Final, Generic, TypeAlias, TypeVar

from coach.text import normalized_name
from coach.yaml_reader.collector import ReadingProblems
from coach.yaml_reader.nodes import Node

T = TypeVar("T")
V_co = TypeVar("V_co", covariant=True)

Schema: TypeAlias = Mapping[str, Any]
"""A piece of JSON Schema, draft 2020-12."""

SYNONYMS: Final = MappingProxyType(
    {
        "holding cord": "holder",
        "knot bearer": "holder",
        "working cord": "knotter",
        "knotting cord": "knotter",
        "plait": "braid",
    }
)


@dataclass(frozen=True, slots=True)
class Value(Generic[V_co]):
    """A kind of value.

    Attributes:
        read: Its reader, which reports what it cannot read and returns None.
        blank: What is used instead of such a value.
        schema: Its JSON Schema.
    """

    read: Callable[[Node, ReadingProblems], V_co | None]
    blank: V_co
    schema: Schema = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Key(Generic[V_co]):
    """One key of a mapping.

    Attributes:
        name: Its first name.
        value: The kind of its value.
        said: Its purpose, in a line.
        example: An example of its value, or a function that makes one of the file's names: for the
            hint where the key is missing.
        needed: Whether it must be there.
    """

    name: str
    value: Value[V_co]
    said: str
    example: str | Callable[[ReadingProblems], str]
    needed: bool

    def written(self, found: ReadingProblems) -> str:
        """Return an example of key and value for the file that is being read."""
        value = self.example if isinstance(self.example, str) else self.example(found)
        return f"{self.name}: {value}"


def must(
    name: str, value: Value[T], said: str, example: str | Callable[[ReadingProblems], str] = "…"
) -> Key[T]:
    """Declare a key that must be there.

    Args:
        name: The key as it is written.
        value: The kind of its value.
        said: Its purpose, for the manual and editors.
        example: A value as a maker would write it.
    """
    return Key(name, value, said, example, needed=True)


def may(
    name: str, value: Value[T], said: str, example: str | Callable[[ReadingProblems], str] = "…"
) -> Key[T]:
    """Declare a key that may be left out.

    Args:
        name: The key as it is written.
        value: The kind of its value.
        said: Its purpose, for the manual and editors.
        example: A value as a maker would write it.
    """
    return Key(name, value, said, example, needed=False)


@dataclass(frozen=True, slots=True)
class OneOf:
    """Alternative keys: at most one may be there, and one must be if `needed`."""

    keys: tuple[Key[Any], ...]
    needed: bool = True


Entry: TypeAlias = Key[Any] | OneOf
Keys: TypeAlias = Mapping[str, Entry]
"""The keys of a mapping in the manual's order, by the fields of the value that they make."""


@dataclass(frozen=True, slots=True)
class Instead:
    """What to write instead of a key that belongs elsewhere: the `keys` to use here.

    In `hint`, `{}` stands for the value that was written.
    """

    keys: tuple[str, ...]
    hint: str


NONE_INSTEAD: Final[Mapping[str, Instead]] = MappingProxyType({})


def first_key(text: str) -> str:
    """Return the first name of a key."""
    name = normalized_name(text)
    return SYNONYMS.get(name, name)


def every_key(entries: Iterable[Entry]) -> Iterator[Key[Any]]:
    """Yield the keys of entries, each alternative too."""
    for entry in entries:
        yield from entry.keys if isinstance(entry, OneOf) else (entry,)
