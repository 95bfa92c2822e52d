"""The frozen model of a project file, lengths in millimetres and times in seconds.

Positions stay as written, counted from 1; the board works out what they mean. All of the model is
named here, wherever in this folder it is defined.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Literal, TypeAlias

from coach.project.bench_work import (
    Attach,
    BringDown,
    EndForEnd,
    FoldBack,
    Make,
    OwnKnot,
    OwnTied,
    RigidRow,
)
from coach.project.cord_model import Cord, Fold, ListedPiece
from coach.project.knot_steps import AroundKnot, Braid, Gathering, GroupKnot, Net, Row
from coach.project.step_basics import About, Groups, Positions
from coach.project.strand_steps import (
    Add,
    Bead,
    Cross,
    LayAside,
    Picot,
    Space,
    TakeUp,
    Trim,
    Turn,
)
from coach.yaml_reader.diagnostics import Span


@dataclass(frozen=True, slots=True)
class Size:
    """The stated size of the finished piece, and what changes its length.

    `length_mm` was measured, with the repeats as written; `wish_mm` is still to be met.
    """

    span: Span
    length_mm: float | None = None
    state: str = "relaxed"
    vary: str = ""
    least: int = 1
    step: int = 1
    closing_mm: float = 0.0  # of the length, what does not go round the body
    wish_mm: float | None = None  # repeats are chosen for it


@dataclass(frozen=True, slots=True)
class MeasuredPart:
    """A maker's own figures for one repeat of a part; `uses_mm` is per strand, by cord."""

    span: Span
    part: str
    length_mm: float | None = None
    uses_mm: Mapping[str, float] = field(default_factory=lambda: MappingProxyType({}))


@dataclass(frozen=True, slots=True)
class Swatch:
    """A maker's own figures for a run of one knot in one cord."""

    span: Span
    knot: str
    cord: str
    times: int
    uses_mm: float | None = None
    length_mm: float | None = None


__all__ = [
    "About", "Add", "Apart", "AroundKnot", "Attach", "Bead", "Braid", "BringDown", "Choice",
    "Cord", "Cross", "Do", "Each", "EndForEnd", "Flip", "Fold", "FoldBack", "Gathering",
    "GroupKnot", "Groups", "LayAside", "Layout", "ListedPiece", "Make", "Measure", "MeasuredPart",
    "Mirror", "Net", "OwnKnot", "OwnTied", "Picot", "Positions", "Project", "RigidRow", "Row",
    "Seam", "Size", "Space", "Start", "Step", "Swatch", "TakeUp", "Trim", "Turn", "Unreadable",
    "Use", "Wait",
]  # fmt: skip

Mirror = Literal["none", "all", "every second"]
Layout = Literal["nest", "hang", "strands"]


@dataclass(frozen=True, slots=True)
class Start:
    """How the cords hang before the first knot.

    `pieces` lists pieces for `nest` and `hang` and strands for `strands`, from the left; those of
    the cords in `doubtful` disagree with the cord's own number, which was reported.
    """

    span: Span
    layout: Layout
    pieces: tuple[ListedPiece, ...]
    on: str = "board"
    diameter_mm: float | None = None
    by: str = ""
    closed: bool = False  # `round: yes`
    flat: bool = False  # `round: flat`, worked outward from the middle
    from_middle: bool = False  # pinned at the middles, the other ends wait above
    before_fold: tuple["Step", ...] = ()
    doubtful: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class Flip:
    """The whole work is turned over."""

    about: About


@dataclass(frozen=True, slots=True)
class Seam:
    """The seam of work in the round is moved to the strand at `at`."""

    about: About
    at: Positions


@dataclass(frozen=True, slots=True)
class Each:
    """The steps are worked on each group in turn."""

    about: About
    groups: Groups
    steps: tuple["Step", ...]
    mirror: Mirror = "none"
    any_order: bool = False


@dataclass(frozen=True, slots=True)
class Use:
    """A named part, repeated; `returns_after` is how many repeats bring the colours back."""

    about: About
    part: str
    times: int = 1
    mirror: Mirror = "none"
    returns_after: int | None = None


@dataclass(frozen=True, slots=True)
class Do:
    """An instruction without a knot."""

    about: About
    text: str


@dataclass(frozen=True, slots=True)
class Measure:
    """Stop and measure."""

    about: About
    what: Literal["length", "width"]
    expect_mm: float | None = None


@dataclass(frozen=True, slots=True)
class Wait:
    """A time to wait."""

    about: About
    time_s: float


@dataclass(frozen=True, slots=True)
class Unreadable:
    """A step with reading errors; `changes_count` if it may have added or removed strands."""

    about: About
    changes_count: bool


Step: TypeAlias = (
    Row | GroupKnot | AroundKnot | Gathering | Net | Braid | Turn | Cross | Space | Picot | Bead
    | Add | LayAside | TakeUp | Flip | Seam | Each | Use | Do | Measure | Wait | Trim | Unreadable
    | Make | Attach | RigidRow | EndForEnd | BringDown | FoldBack | OwnTied
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Apart:
    """A part made apart, `make` times: a handle, a tassel, the second earring."""

    span: Span
    name: str
    start: Start
    work: tuple[Step, ...]
    make: int = 1
    mirror: Mirror = "none"


@dataclass(frozen=True, slots=True)
class Choice:
    """The maker's choice at the bench for one open step.

    `value` is times, turns, a length in mm, or the place of a strand among those named, from 0.
    """

    what: Literal["times", "turns", "length", "knotter"]
    value: float


@dataclass(frozen=True, slots=True)
class Project:
    """A whole project file.

    `takes_s` is (least, most); `margin` is a share of one, or None where the spare cord follows
    from the risk. `start` hangs nothing where the work only makes and attaches. `chosen` are the
    choices made at the bench, by the number of the open step in the order of the work, from 0.
    """

    title: str
    cords: Mapping[str, Cord]
    start: Start
    work: tuple[Step, ...]
    parts: Mapping[str, tuple[Step, ...]] = field(default_factory=lambda: MappingProxyType({}))
    about: str = ""
    kind: str = "other"
    skill: str = ""
    surface: str = ""
    tools: tuple[str, ...] = ()
    findings: tuple[str, ...] = ()
    takes_s: tuple[float, float] | None = None
    takes_span: Span = field(default_factory=Span)
    cautions: tuple[str, ...] = ()
    margin: float | None = None
    size: Size | None = None
    measured: tuple[MeasuredPart | Swatch, ...] = ()
    colourways: Mapping[str, Mapping[str, str]] = field(  # name, cord, "#rrggbb"
        default_factory=lambda: MappingProxyType({})
    )
    apart: Mapping[str, Apart] = field(default_factory=lambda: MappingProxyType({}))
    knots: Mapping[str, OwnKnot] = field(default_factory=lambda: MappingProxyType({}))
    chosen: Mapping[int, Choice] = field(default_factory=lambda: MappingProxyType({}))
