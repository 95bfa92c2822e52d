"""What happens to a piece, as frozen events that are kept one by one.

A new kind is one more frozen class with a `kind`, added to `KINDS`. A field added later to a
kind that was already kept needs a default, so that the older entries can still be read.
"""

import json
from collections.abc import Mapping
from dataclasses import asdict, dataclass, field, fields
from math import inf
from typing import Any, ClassVar, Final

from coach import __version__
from coach.piece.problems import Damaged, NewerVersion


@dataclass(frozen=True, slots=True, kw_only=True)
class Event:
    """Something that happened.

    `at_ms` is UTC in epoch milliseconds. `tick_ms` is a monotonic reading in milliseconds and
    only comparable within one `sitting`, which is numbered by the place of its `Opened`.
    """

    kind: ClassVar[str]
    at_ms: int
    tick_ms: int
    sitting: int

    def to_json(self) -> str:
        """Give every field as one JSON object; the kind is kept beside it."""
        return json.dumps(asdict(self), separators=(",", ":"))


@dataclass(frozen=True, slots=True, kw_only=True)
class Begun(Event):
    """The piece was begun: from which project, and with which paces (see `coach.pace.data`).

    `source` is the project's path or shipped name, `total` how many counts its plan has.
    """

    kind: ClassVar[str] = "begun"
    title: str
    project_text: str
    source: str
    total: int
    paces: Mapping[str, Any] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class Opened(Event):
    """A sitting starts; `version` is the coach that opened the piece."""

    kind: ClassVar[str] = "opened"
    version: str = __version__


@dataclass(frozen=True, slots=True, kw_only=True)
class Counted(Event):
    """`count` counts were made at once, the first of them being number `from_done` from 0.

    `knot` is the knot of all of them, and empty where they are mixed or no ties: then they
    show no pace. `expected_s` is what they were expected to take where that follows from more
    than the pace of one knot, else 0.
    """

    kind: ClassVar[str] = "counted"
    count: int
    from_done: int
    knot: str = ""
    expected_s: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class TakenBack(Event):
    """`count` counts were taken back, `from_done` having been made."""

    kind: ClassVar[str] = "taken back"
    count: int
    from_done: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Paused(Event):
    """The clock was stopped."""

    kind: ClassVar[str] = "paused"


@dataclass(frozen=True, slots=True, kw_only=True)
class Resumed(Event):
    """The clock goes on."""

    kind: ClassVar[str] = "resumed"


@dataclass(frozen=True, slots=True, kw_only=True)
class Left(Event):
    """The sitting ends."""

    kind: ClassVar[str] = "left"


KINDS: Final[Mapping[str, type[Event]]] = {
    one.kind: one for one in (Begun, Opened, Counted, TakenBack, Paused, Resumed, Left)
}
_TYPES: Final[Mapping[str, type | tuple[type, ...]]] = {
    "int": int,
    "str": str,
    "float": (int, float),
}


def from_json(kind: str, data: str) -> Event:
    """Read an event that `to_json` wrote.

    Raises:
        NewerVersion: This coach knows no such kind, or not all of its fields.
        Damaged: The data is not what `to_json` writes.
    """
    known = KINDS.get(kind)
    if known is None:
        raise _newer(f"an entry of the kind “{kind}”")
    try:
        values = json.loads(data)
    except ValueError as error:
        raise Damaged(f"an entry “{kind}” is no JSON") from error
    if not isinstance(values, dict):
        raise Damaged(f"an entry “{kind}” is no JSON object")
    allowed = {one.name: one for one in fields(known)}
    unknown = sorted(values.keys() - allowed.keys())
    if unknown:
        raise _newer(f"“{unknown[0]}” in an entry “{kind}”")
    for name, value in values.items():
        _check(kind, name, value, allowed[name].type)
    try:
        return known(**values)
    except TypeError as error:
        raise Damaged(f"an entry “{kind}” lacks something") from error


def _check(kind: str, name: str, value: object, wanted: object) -> None:
    """Refuse a value of another type than the field's."""
    expected = _TYPES.get(getattr(wanted, "__name__", ""), Mapping)
    unfit = isinstance(value, bool) or not isinstance(value, expected)
    if unfit or (isinstance(value, float) and not 0 <= value < inf):
        raise Damaged(f"“{name}” of an entry “{kind}” cannot be {value!r}")


def _newer(what: str) -> NewerVersion:
    return NewerVersion(
        f"This piece holds {what}, which coach {__version__} does not know: a newer coach "
        "wrote it. Open the piece with that one, or bring this one up to date."
    )
