"""The frozen model of a project file: what its writer said, in millimetres and seconds.

Positions stay as written, counted from 1; what they mean on the board is worked out later.
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
from coach.project.step_basics import About, Groups, Positions
from coach.quantities import mass_of_g
from coach.yaml_reader.diagnostics import Span

__all__ = [
    "About", "Add", "Apart", "AroundKnot", "Attach", "Bead", "Braid", "BringDown", "Choice",
    "Cord", "Cross", "Do", "Each", "EndForEnd", "Flip", "Fold", "FoldBack", "Gathering",
    "GroupKnot", "Groups", "Hung", "LayAside", "Layout", "Make", "Measure", "MeasuredPart",
    "Mirror", "Net", "OwnKnot", "OwnTied", "Picot", "Positions", "Project", "RigidRow", "Row",
    "Seam", "Size", "Space", "Start", "Step", "Swatch", "TakeUp", "Trim", "Turn", "Unreadable",
    "Use", "Wait",
]  # fmt: skip

Fold = Literal["middle", "fit", "none"]
Mirror = Literal["none", "all", "every second"]
Layout = Literal["nest", "hang", "strands"]


@dataclass(frozen=True, slots=True)
class Cord:
    """One cord that is bought: how it looks and how it is cut.

    `colour` is what it is drawn in, chosen for it where the file gives none; then `colour_name`
    is "". `fibre` is "" where it is not known, `pieces` None where they are left out,
    `fineness_tex` None where the file does not say what the cord weighs. Where it says that
    alone, the thickness is `estimated` from it.
    """

    id: str
    span: Span
    colour: str  # "#rrggbb"
    colour_name: str  # as written
    fibre: str
    diameter_mm: float
    pieces: int | None = None
    fold: Fold = "middle"
    tail_mm: float = 100.0
    lead_mm: float = 0.0
    fineness_tex: float | None = None
    estimated: bool = False

    def mass_g(self, length_mm: float) -> float | None:
        """Return what a length of it weighs, None where that is not known."""
        return mass_of_g(length_mm, self.fineness_tex) if self.fineness_tex else None


@dataclass(frozen=True, slots=True)
class Hung:
    """A piece as it is named in a list of pieces; `number` only where `strands:` gives it."""

    cord: str
    span: Span
    number: int | None = None


@dataclass(frozen=True, slots=True)
class Start:
    """How the cords hang before the first knot.

    `pieces` lists pieces for `nest` and `hang` and strands for `strands`, from the left; of the
    cords in `doubtful` they do not agree with the cord's own number, which was reported.
    """

    span: Span
    layout: Layout
    pieces: tuple[Hung, ...]
    on: str = "board"
    diameter_mm: float | None = None
    by: str = ""
    closed: bool = False  # `round: yes`
    flat: bool = False  # `round: flat`, worked outward from the middle
    from_middle: bool = False  # pinned at the middles, the other ends wait above
    before_fold: tuple["Step", ...] = ()
    doubtful: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class Row:
    """A row or weave: one strand travels across others; `knots` names the knot at each."""

    about: About
    mover: Positions
    across: Positions
    knots: tuple[str, ...]  # one name for a plain row; one per crossed strand for a weave
    mover_holds: bool  # for a plain row: the mover is the holder
    weave: bool = False
    lie: Literal["", "level", "slant"] = ""
    slope_deg: float | None = None
    times: int = 1
    first: Literal["", "under", "over"] = ""  # which way a reverse clove hitch is begun


@dataclass(frozen=True, slots=True)
class GroupKnot:
    """A knot tied within each group: flat knots, chains, josephine, overhand, berry knots."""

    about: About
    knot: str
    groups: Groups
    times: int = 1
    clasp: str = ""  # `with:`, the cord that ties it round all the strands
    squares: int = 0  # `of:` of a berry knot
    size_mm: float = 0.0  # `size:` of a josephine knot that is laid open, 0 for one drawn up


@dataclass(frozen=True, slots=True)
class AroundKnot:
    """One strand knots round others that keep their places; no `around` is round itself.

    With `among` the knotter is the strand of these that has most left, tied round the others.
    """

    about: About
    knot: str
    knotter: Positions
    around: Positions | None
    times: int = 1
    turns: int = 0  # of a barrel knot
    among: Positions | None = None


@dataclass(frozen=True, slots=True)
class Gathering:
    """A separate piece of `wrap` is wrapped round the bundle over `length_mm`."""

    about: About
    wrap: str
    around: Positions
    length_mm: float


@dataclass(frozen=True, slots=True)
class Net:
    """Rows of knots, every second row set off by half a group."""

    about: About
    groups: Groups
    of: str
    rows: int
    sides: Literal["even", "narrow", "widen"] = "even"
    gap_mm: float = 0.0


@dataclass(frozen=True, slots=True)
class Braid:
    """A plait of three strands or bundles, by length or by crossings."""

    about: About
    bundles: Groups
    length_mm: float | None = None
    crossings: int | None = None


@dataclass(frozen=True, slots=True)
class Turn:
    """The holder turns round a neighbour, or round a pin (`around` is None)."""

    about: About
    holder: Positions
    around: Positions | None


@dataclass(frozen=True, slots=True)
class Cross:
    """A new order from the left, by old position, with no knot."""

    about: About
    order: Positions


@dataclass(frozen=True, slots=True)
class Space:
    """A length left unknotted on each group; None is on every strand."""

    about: About
    groups: Groups | None
    length_mm: float


@dataclass(frozen=True, slots=True)
class Picot:
    """A loop of cord left standing out at each strand."""

    about: About
    strands: Positions
    loop_mm: float


@dataclass(frozen=True, slots=True)
class Bead:
    """The strands pass through a bead of that length."""

    about: About
    strands: Positions
    size_mm: float


@dataclass(frozen=True, slots=True)
class Add:
    """New pieces are hung so that their first strand stands at `at`."""

    about: About
    pieces: tuple[Hung, ...]
    at: Positions
    onto: Positions | None = None
    by: str = ""
    fold: Fold | None = None


@dataclass(frozen=True, slots=True)
class LayAside:
    """The strands are done; the others close up."""

    about: About
    strands: Positions
    leave_mm: float | None = None


@dataclass(frozen=True, slots=True)
class TakeUp:
    """Strands laid aside before come back, the first one at `at`."""

    about: About
    strands: tuple[str, ...]
    at: Positions


@dataclass(frozen=True, slots=True)
class Flip:
    """The whole work is turned over."""

    about: About


@dataclass(frozen=True, slots=True)
class Seam:
    """Work in the round is counted anew from the strand at `at`."""

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
class Trim:
    """Ends are cut below the last knot, to `middle_mm` in the middle where it is given."""

    about: About
    strands: Positions
    leave_mm: float
    middle_mm: float | None = None


@dataclass(frozen=True, slots=True)
class Unreadable:
    """A step with problems of its own; `changes_count` if strands may have come or gone."""

    about: About
    changes_count: bool


Step: TypeAlias = (
    Row | GroupKnot | AroundKnot | Gathering | Net | Braid | Turn | Cross | Space | Picot | Bead
    | Add | LayAside | TakeUp | Flip | Seam | Each | Use | Do | Measure | Wait | Trim | Unreadable
    | Make | Attach | RigidRow | EndForEnd | BringDown | FoldBack | OwnTied
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Apart:
    """A part made by itself, `make` times: a handle, a tassel, the second earring."""

    span: Span
    name: str
    start: Start
    work: tuple[Step, ...]
    make: int = 1
    mirror: Mirror = "none"


@dataclass(frozen=True, slots=True)
class Choice:
    """What the maker chose at the bench for one step that is open to it.

    `value` is times, turns, a length in mm, or the place of a strand among those named, from 0.
    """

    what: Literal["times", "turns", "length", "knotter"]
    value: float


@dataclass(frozen=True, slots=True)
class Size:
    """What the maker says of the finished piece and what changes its length.

    `length_mm` was measured, with the repeats as written; `wish_mm` is not made yet.
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


@dataclass(frozen=True, slots=True)
class Project:
    """A whole project file.

    `takes_s` is (least, most); `margin` is a share of one, or None where what is to spare follows
    from the risk. `start` hangs nothing where the work only makes and attaches. `chosen` is what
    was chosen at the bench, by the number of the open step as the steps come, from 0.
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
