"""The events of a piece, frozen and stored one by one.

A new kind is one more class marked with `event` and its name, added to `PIECE_EVENTS`; see
`coach.kept_events` for fields that are added later.
"""

from collections.abc import Mapping
from dataclasses import field
from typing import Any, Final

from coach import __version__
from coach.kept_events import EventKinds, KeptEvent, event


@event()
class Event(KeptEvent):
    """An event of a piece.

    `at_ms` is UTC in epoch milliseconds. `tick_ms` is a monotonic reading in milliseconds and
    only comparable within one `sitting`, which is numbered by the place of its `Opened`.
    """

    tick_ms: int
    sitting: int


@event("begun")
class Begun(Event):
    """The piece was begun: its project, and the paces at the start (see `coach.pace.pace_json`).

    `source` is the project's path or shipped name, `total` how many counts its plan has, `cord`
    the prior of cords and knots (see `coach.piece.beliefs`).
    """

    title: str
    project_text: str
    source: str
    total: int
    paces: Mapping[str, Any] = field(default_factory=dict)
    cord: Mapping[str, Any] = field(default_factory=dict)


@event("opened")
class Opened(Event):
    """A sitting starts; `version` is the coach that opened the piece."""

    version: str = __version__


@event("counted")
class Counted(Event):
    """`count` counts were made at once, the first of them being number `from_done` from 0.

    `knot` is the knot of all of them, and empty where they are mixed or no ties. `standard_s` is
    their work as standard seconds by kind (see `coach.pace.prior`), empty where that is no more
    than so many usual ties of the knot. `expected_s` only occurs in older entries: what counts
    without one knot were expected to take.
    """

    count: int
    from_done: int
    knot: str = ""
    expected_s: float = 0.0
    standard_s: Mapping[str, float] = field(default_factory=dict)


@event("taken back")
class TakenBack(Event):
    """`count` counts were taken back, `from_done` having been made."""

    count: int
    from_done: int


@event("said")
class Said(Event):
    """Something was knotted without a pattern, as a sentence says.

    `work` is what it changed (see `coach.recording.record.RecordingChange`), `done` how many counts of
    `total` are made after it, `standard_s` the work of those that it added.
    """

    said: str
    work: Mapping[str, Any]
    done: int
    total: int
    standard_s: Mapping[str, float] = field(default_factory=dict)


@event("paused")
class Paused(Event):
    """The clock was stopped."""


@event("resumed")
class Resumed(Event):
    """The clock was started again."""


@event("left")
class Left(Event):
    """The sitting ends."""


@event("took project")
class TookProject(Event):
    """The piece goes on with an edited project, of which `done` counts are taken as made.

    With `choices` 1, the choices made at the bench hold in it too.
    """

    project_text: str
    total: int
    done: int
    choices: int = 0


@event("kept project")
class KeptProject(Event):
    """The piece keeps its own project; `declined` is the CRC-32 of the edited text."""

    declined: int


@event()
class Aside(Event):
    """An event beside the counting, which changes neither the count nor the clock."""


@event()
class CordMark(Aside):
    """A preparation before the first knot: `mark` (cut, labelled, hung) of the cord `what`."""

    what: str
    mark: str


@event("ticked")
class Ticked(CordMark):
    """A preparation was ticked as done."""


@event("unticked")
class Unticked(CordMark):
    """A preparation was unticked."""


@event("noted")
class Noted(Aside):
    """A spot was marked at count `tie`, with words or for words later.

    `place` and `within` name the spot so that it is known again in the next repeat (see
    `coach.plan.board_at_count`). `written_ms` is 0 for a new spot; otherwise the words are for the
    spot that was marked then, and empty words remove it.
    """

    tie: int
    place: str
    within: int
    words: str = ""
    written_ms: int = 0


@event("left out")
class LeftOut(Aside):
    """From here on other pieces learn nothing from this one."""


@event("learnt from")
class LearntFrom(Aside):
    """Other pieces learn from this one again."""


@event()
class Happening(Aside):
    """Something that changes the plan, when `at_done` counts were made.

    `total` is how many counts the piece has from then on.
    """

    at_done: int
    total: int


@event("measured")
class Measured(Happening):
    """A length was measured: the rest of `strand` (`reed.1a`), or the work where it is "".

    `lying` is how the work lay: pinned, relaxed, loaded or washed. `doubt` is how many deviations
    it was off when it was questioned and kept all the same, 0 where it was not.
    """

    strand: str
    length_mm: float
    lying: str = ""
    doubt: float = 0.0


@event("fitted")
class Fitted(Happening):
    """The piece was fitted before the first count: a wish, see `coach.plan.resize.size_request`."""

    wish: Mapping[str, Any]


@event("repeats")
class Repeats(Happening):
    """From here on `part` has `times` repeats, in its call number `call` from 0."""

    part: str
    call: int
    times: int


@event("joined")
class Joined(Happening):
    """`strand` goes on with a new cord of `length_mm`, of which `overlap_mm` lies on the old."""

    strand: str
    length_mm: float
    overlap_mm: float = 0.0


@event("reordered")
class Reordered(Happening):
    """The strands were found in another order, from the left: their names with commas between."""

    order: str


@event("picked")
class Picked(Happening):
    """Group `arm` of `each`, both from 1, is worked next (see `coach.plan.group_order`)."""

    each: int
    arm: int


@event("chosen")
class Chosen(Happening):
    """A choice at open step `step`, numbered as they come from 0.

    `what` is times, turns, length (in mm) or knotter (the place of a strand among those named, from
    0), and `value` the choice.
    """

    step: int
    what: str
    value: float


@event("withdrew")
class Withdrew(Happening):
    """The last pick or choice is taken back."""


@event("ended")
class Ended(Happening):
    """The piece ends here, before its plan does."""


@event("went on")
class WentOn(Happening):
    """A piece that was ended early goes on after all."""


PIECE_EVENTS: Final[EventKinds[Event]] = EventKinds(
    Begun, Opened, Counted, TakenBack, Paused, Resumed, Left, TookProject, KeptProject,
    Ticked, Unticked, Noted, Measured, Fitted, Repeats, Joined, Reordered, Ended, WentOn,
    LeftOut, LearntFrom, Picked, Chosen, Withdrew, Said,
)  # fmt: skip
"""All kinds that are kept of a piece."""
