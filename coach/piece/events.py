"""What happens to a piece, as frozen events that are kept one by one.

A new kind is one more frozen class with a `kind`, added to `KINDS`. A field added later to a
kind that was already kept needs a default, so that the older entries can still be read.
"""

import json
from collections.abc import Mapping
from math import inf
from typing import Any, ClassVar, Final

from coach import __version__
from coach.piece.frozen import Frozen
from coach.piece.piece_errors import Damaged, NewerVersion

_NOTHING: Final[Mapping[str, Any]] = {}  # an object that JSON takes, and that nobody changes


class Event(Frozen):
    """Something that happened.

    `at_ms` is UTC in epoch milliseconds. `tick_ms` is a monotonic reading in milliseconds and
    only comparable within one `sitting`, which is numbered by the place of its `Opened`.
    """

    kind: ClassVar[str]
    at_ms: int
    tick_ms: int
    sitting: int

    def to_text(self) -> str:
        """Return the kind and behind it all fields as JSON; `from_text` reads it."""
        return self.kind + json.dumps(self.values(), separators=(",", ":"))


class Begun(Event):
    """The piece was begun: from which project, and with which paces (see `coach.pace.data`).

    `source` is the project's path or shipped name, `total` how many counts its plan has, `cord`
    what is believed of cords and knots beforehand (see `coach.piece.learning.beliefs`).
    """

    kind: ClassVar[str] = "begun"
    title: str
    project_text: str
    source: str
    total: int
    paces: Mapping[str, Any] = _NOTHING
    cord: Mapping[str, Any] = _NOTHING


class Opened(Event):
    """A sitting starts; `version` is the coach that opened the piece."""

    kind: ClassVar[str] = "opened"
    version: str = __version__


class Counted(Event):
    """`count` counts were made at once, the first of them being number `from_done` from 0.

    `knot` is the knot of all of them, and empty where they are mixed or no ties. `standard_s` is
    their work as standard seconds by kind (see `coach.pace.prior`), empty where that is no more
    than so many usual ties of the knot. `expected_s` stands in older entries only: what counts
    without one knot were expected to take.
    """

    kind: ClassVar[str] = "counted"
    count: int
    from_done: int
    knot: str = ""
    expected_s: float = 0.0
    standard_s: Mapping[str, float] = _NOTHING


class TakenBack(Event):
    """`count` counts were taken back, `from_done` having been made."""

    kind: ClassVar[str] = "taken back"
    count: int
    from_done: int


class Paused(Event):
    """The clock was stopped."""

    kind: ClassVar[str] = "paused"


class Resumed(Event):
    """The clock goes on."""

    kind: ClassVar[str] = "resumed"


class Left(Event):
    """The sitting ends."""

    kind: ClassVar[str] = "left"


class TookProject(Event):
    """The piece goes on with a changed project, of which `done` counts are taken as made."""

    kind: ClassVar[str] = "took project"
    project_text: str
    total: int
    done: int


class KeptProject(Event):
    """The piece stays with the project it has; `declined` is the CRC-32 of the changed text."""

    kind: ClassVar[str] = "kept project"
    declined: int


class Aside(Event):
    """Something beside the counting: neither the count nor the clock knows of it."""


class Ticked(Aside):
    """Something is done before the first knot: `mark` (cut, labelled, hung) of the piece `what`."""

    kind: ClassVar[str] = "ticked"
    what: str
    mark: str


class Unticked(Aside):
    """A tick was taken back."""

    kind: ClassVar[str] = "unticked"
    what: str
    mark: str


class Noted(Aside):
    """A spot was marked at count `tie`, with words or for words later.

    `place` and `within` name the spot so that it is known again in the next repeat (see
    `coach.plan.standing`). `written_ms` is 0 for a new spot; else the words are for the spot that
    was marked then, and no words take it away.
    """

    kind: ClassVar[str] = "noted"
    tie: int
    place: str
    within: int
    words: str = ""
    written_ms: int = 0


class Happening(Aside):
    """What the plan did not know of, when `at_done` counts were made; the plan follows it.

    `total` is how many counts the piece has from then on.
    """

    at_done: int
    total: int


class Measured(Happening):
    """A length was measured: the rest of `strand` (`reed.1a`), or of the work where it is "".

    `lying` is how the work lay: pinned, relaxed, loaded or washed.
    """

    kind: ClassVar[str] = "measured"
    strand: str
    length_mm: float
    lying: str = ""


class Fitted(Happening):
    """Before the first count the piece was fitted: a wish, see `coach.plan.resize.size_request`."""

    kind: ClassVar[str] = "fitted"
    wish: Mapping[str, Any]


class Repeats(Happening):
    """From here on `part` is made `times` times, in its call number `call` from 0."""

    kind: ClassVar[str] = "repeats"
    part: str
    call: int
    times: int


class Joined(Happening):
    """`strand` goes on with a new cord of `length_mm`, of which `overlap_mm` lies on the old."""

    kind: ClassVar[str] = "joined"
    strand: str
    length_mm: float
    overlap_mm: float = 0.0


class Reordered(Happening):
    """The strands were found to hang so, from the left: their names with commas between."""

    kind: ClassVar[str] = "reordered"
    order: str


class Ended(Happening):
    """The piece ends here, before its plan does."""

    kind: ClassVar[str] = "ended"


class WentOn(Happening):
    """A piece that was ended early goes on after all."""

    kind: ClassVar[str] = "went on"


KINDS: Final[Mapping[str, type[Event]]] = {
    one.kind: one
    for one in (
        Begun, Opened, Counted, TakenBack, Paused, Resumed, Left, TookProject, KeptProject,
        Ticked, Unticked, Noted, Measured, Fitted, Repeats, Joined, Reordered, Ended, WentOn,
    )
}  # fmt: skip
MOST: Final = 2**47  # milliseconds until the year 6429, and more than anything that is counted
_TYPES: Final[Mapping[str, type | tuple[type, ...]]] = {
    "int": int,
    "str": str,
    "float": (int, float),
}


def from_text(text: str) -> Event:
    """Read an event that `to_text` wrote. Raises NewerVersion, Damaged."""
    kind, brace, rest = text.partition("{")
    return from_json(kind, brace + rest)


def from_json(kind: str, data: str) -> Event:
    """Read an event whose fields are one JSON object. Raises NewerVersion, Damaged."""
    try:
        return from_values(kind, json.loads(data))
    except (ValueError, RecursionError) as error:
        raise Damaged(f"an entry “{kind}” is no JSON") from error


def from_values(kind: str, values: object) -> Event:
    """Return the event of a kind whose `values` are these.

    Raises:
        NewerVersion: This coach knows no such kind, or not all of its fields.
        Damaged: The values are not what `values` gives.
    """
    known = KINDS.get(kind)
    if known is None:
        raise newer(f"an entry of the kind “{kind}”")
    if not isinstance(values, dict):
        raise Damaged(f"an entry “{kind}” is no JSON object")
    unknown = sorted(values.keys() - known.fields.keys())
    if unknown:
        raise newer(f"“{unknown[0]}” in an entry “{kind}”")
    for name, value in values.items():
        _check(kind, name, value, known.fields[name])
    try:
        return known(**values)
    except TypeError as error:
        raise Damaged(f"an entry “{kind}” lacks something") from error


def _check(kind: str, name: str, value: object, wanted: object) -> None:
    """Refuse a value of another type than the field's."""
    expected = _TYPES.get(getattr(wanted, "__name__", ""), Mapping)
    unfit = isinstance(value, bool) or not isinstance(value, expected)
    beyond = isinstance(value, int) and not 0 <= value <= MOST
    if unfit or beyond or (isinstance(value, float) and not 0 <= value < inf):
        raise Damaged(f"“{name}” of an entry “{kind}” cannot be {value!r}")


def newer(what: str) -> NewerVersion:
    """Return the error that tells of something in a piece that only a newer coach knows."""
    return NewerVersion(
        f"This piece holds {what}, which coach {__version__} does not know: a newer coach "
        "wrote it. Open the piece with that one, or bring this one up to date."
    )
