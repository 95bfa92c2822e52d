"""The base of all stored events: those of pieces and those of the order desk.

An event is a class marked with `event` and its kind; it is stored as that kind and its fields by
name. A field added to a kind that is already stored needs a default, so that older entries can
still be read.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, fields
from math import inf
from typing import Any, ClassVar, Final, Generic, TypeVar, dataclass_transform, get_origin

MOST: Final = 2**47
"""Milliseconds until the year 6429, and more than anything that is counted."""


class BadEntry(Exception):
    """A stored entry that cannot be read; the text says what is wrong with it."""


class UnknownEntry(BadEntry):
    """An entry of a kind, or with a field, that only a newer coach knows."""


C = TypeVar("C", bound="KeptEvent")


@dataclass_transform(frozen_default=True, kw_only_default=True)
def event(kind: str = "") -> Callable[[type[C]], type[C]]:
    """Make a class a frozen dataclass that is stored as an event.

    Args:
        kind: The name in the store, which must never change; "" for a common base class.
    """

    def as_event(cls: type[C]) -> type[C]:
        if kind:
            cls.kind = kind
        made = bool(kind)  # a common base class is never made by itself, nor compared
        return dataclass(frozen=True, slots=True, kw_only=True, init=made, repr=made, eq=made)(cls)

    return as_event


@event()
class KeptEvent:
    """An event in the store; `at_ms` is when it happened, in UTC epoch milliseconds."""

    kind: ClassVar[str]
    at_ms: int

    def values(self) -> dict[str, Any]:
        """Return every field by its name, those of base classes first."""
        return {one.name: getattr(self, one.name) for one in fields(self)}


E = TypeVar("E", bound=KeptEvent)


class EventKinds(Generic[E]):
    """A registry of the kinds of event that one part of the store may hold."""

    def __init__(self, *known: type[E]) -> None:
        self.by_name: Final[Mapping[str, type[E]]] = {one.kind: one for one in known}
        self._types = {
            one.kind: {field.name: get_origin(field.type) or field.type for field in fields(one)}
            for one in known
        }

    def read(self, kind: str, values: Mapping[str, Any]) -> E:
        """Return the event of a kind, its field values checked.

        Raises:
            UnknownEntry: This coach does not know the kind, or one of its fields.
            BadEntry: A value is missing, of the wrong type or out of range.
        """
        known = self.by_name.get(kind)
        if known is None:
            raise UnknownEntry(f"an entry of the kind ‘{kind}’")
        types = self._types[kind]
        unknown = sorted(values.keys() - types.keys())
        if unknown:
            raise UnknownEntry(f"‘{unknown[0]}’ in an entry ‘{kind}’")
        for name, value in values.items():
            if not _fits(value, types[name]):
                raise BadEntry(f"‘{name}’ of an entry ‘{kind}’ cannot be {value!r}")
        try:
            return known(**values)
        except TypeError as error:
            raise BadEntry(f"an entry ‘{kind}’ lacks something") from error


def _fits(value: object, wanted: Any) -> bool:
    """Return whether a value has a field's type; JSON writes a whole float as an int."""
    if wanted is bool or isinstance(value, bool):
        return wanted is bool and isinstance(value, bool)
    if wanted is list:
        return isinstance(value, list) and all(map(_is_inside, value))
    if wanted in (int, float):
        is_number = isinstance(value, int if wanted is int else (int, float))
        return is_number and _is_inside(value)
    return isinstance(value, wanted)


def _is_inside(value: object) -> bool:
    """Return whether numbers, also those inside texts and lists, are in storable range."""
    if isinstance(value, bool):
        return False
    if isinstance(value, int):
        return 0 <= value <= MOST
    if isinstance(value, float):
        return 0 <= value < inf
    if isinstance(value, list):
        return all(map(_is_inside, value))
    return isinstance(value, str)
