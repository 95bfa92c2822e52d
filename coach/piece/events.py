"""What happens to a piece, as frozen events that are kept one by one.

A new kind is one more frozen class with a `kind`, added to `PIECE_EVENTS`; see
`coach.kept_events` for fields that are added later.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any, ClassVar, Final

from coach import __version__
from coach.kept_events import EventKinds, KeptEvent


@dataclass(frozen=True, slots=True, kw_only=True)
class Event(KeptEvent):
    """Something that happened.

    `at_ms` is UTC in epoch milliseconds. `tick_ms` is a monotonic reading in milliseconds and
    only comparable within one `sitting`, which is numbered by the place of its `Opened`.
    """

    tick_ms: int
    sitting: int


@dataclass(frozen=True, slots=True, kw_only=True)
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
    paces: Mapping[str, Any] = field(default_factory=dict)
    cord: Mapping[str, Any] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class Opened(Event):
    """A sitting starts; `version` is the coach that opened the piece."""

    kind: ClassVar[str] = "opened"
    version: str = __version__


@dataclass(frozen=True, slots=True, kw_only=True)
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
    standard_s: Mapping[str, float] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class TakenBack(Event):
    """`count` counts were taken back, `from_done` having been made."""

    kind: ClassVar[str] = "taken back"
    count: int
    from_done: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Said(Event):
    """Something was knotted without a pattern, as a sentence says.

    `work` is what it changed (see `coach.recording.record.Change`), `done` how many counts of
    `total` are made after it, `standard_s` the work of those that it added.
    """

    kind: ClassVar[str] = "said"
    said: str
    work: Mapping[str, Any]
    done: int
    total: int
    standard_s: Mapping[str, float] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class Paused(Event):
    """The clock was stopped."""

    kind: ClassVar[str] = "paused"


@dataclass(frozen=True, slots=True, kw_only=True)
class Resumed(Event):
    """Clock running."""

    kind: ClassVar[str] = "resumed"


@dataclass(frozen=True, slots=True, kw_only=True)
class Left(Event):
    """The sitting ends."""

    kind: ClassVar[str] = "left"


@dataclass(frozen=True, slots=True, kw_only=True)
class TookProject(Event):
    """The piece goes on with a changed project, of which `done` counts are taken as made.

    With `choices` 1, what was chosen at the bench holds in it too.
    """

    kind: ClassVar[str] = "took project"
    project_text: str
    total: int
    done: int
    choices: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptProject(Event):
    """The piece stays with the project it has; `declined` is the CRC-32 of the changed text."""

    kind: ClassVar[str] = "kept project"
    declined: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Aside(Event):
    """Something beside the counting: neither the count nor the clock knows of it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Ticked(Aside):
    """Something is done before the first knot: `mark` (cut, labelled, hung) of the piece `what`."""

    kind: ClassVar[str] = "ticked"
    what: str
    mark: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Unticked(Aside):
    """A tick was taken back."""

    kind: ClassVar[str] = "unticked"
    what: str
    mark: str


@dataclass(frozen=True, slots=True, kw_only=True)
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


@dataclass(frozen=True, slots=True, kw_only=True)
class LeftOut(Aside):
    """From here on nothing is learnt from the piece for others."""

    kind: ClassVar[str] = "left out"


@dataclass(frozen=True, slots=True, kw_only=True)
class LearntFrom(Aside):
    """A piece that was left out teaches the next ones again."""

    kind: ClassVar[str] = "learnt from"


@dataclass(frozen=True, slots=True, kw_only=True)
class Happening(Aside):
    """What the plan did not know of, when `at_done` counts were made; the plan follows it.

    `total` is how many counts the piece has from then on.
    """

    at_done: int
    total: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured(Happening):
    """A length was measured: the rest of `strand` (`reed.1a`), or of the work where it is "".

    `lying` is how the work lay: pinned, relaxed, loaded or washed. `doubt` is how many deviations
    it lay off when it was questioned and kept all the same, 0 where it was not.
    """

    kind: ClassVar[str] = "measured"
    strand: str
    length_mm: float
    lying: str = ""
    doubt: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Fitted(Happening):
    """Before the first count the piece was fitted: a wish, see `coach.plan.resize.size_request`."""

    kind: ClassVar[str] = "fitted"
    wish: Mapping[str, Any]


@dataclass(frozen=True, slots=True, kw_only=True)
class Repeats(Happening):
    """From here on `part` is made `times` times, in its call number `call` from 0."""

    kind: ClassVar[str] = "repeats"
    part: str
    call: int
    times: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Joined(Happening):
    """`strand` goes on with a new cord of `length_mm`, of which `overlap_mm` lies on the old."""

    kind: ClassVar[str] = "joined"
    strand: str
    length_mm: float
    overlap_mm: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Reordered(Happening):
    """The strands were found to hang so, from the left: their names with commas between."""

    kind: ClassVar[str] = "reordered"
    order: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Picked(Happening):
    """From here on group `arm` of `each`, both from 1, is worked next (see `coach.plan.arms`)."""

    kind: ClassVar[str] = "picked"
    each: int
    arm: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Chosen(Happening):
    """The maker chose what open step `step`, numbered as they come from 0, leaves to her.

    `what` is times, turns, length (in mm) or knotter (the place of a strand among those named, from
    0), and `value` what she chose.
    """

    kind: ClassVar[str] = "chosen"
    step: int
    what: str
    value: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Withdrew(Happening):
    """What was picked or chosen last is taken back."""

    kind: ClassVar[str] = "withdrew"


@dataclass(frozen=True, slots=True, kw_only=True)
class Ended(Happening):
    """The piece ends here, before its plan does."""

    kind: ClassVar[str] = "ended"


@dataclass(frozen=True, slots=True, kw_only=True)
class WentOn(Happening):
    """A piece that was ended early goes on after all."""

    kind: ClassVar[str] = "went on"


PIECE_EVENTS: Final[EventKinds[Event]] = EventKinds(
    Begun, Opened, Counted, TakenBack, Paused, Resumed, Left, TookProject, KeptProject,
    Ticked, Unticked, Noted, Measured, Fitted, Repeats, Joined, Reordered, Ended, WentOn,
    LeftOut, LearntFrom, Picked, Chosen, Withdrew, Said,
)  # fmt: skip
"""All kinds that are kept of a piece."""
