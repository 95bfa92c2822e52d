"""Steps of work beyond one piece of netting on a board.

Parts made apart and attached, strands hitched onto something rigid, work begun in the
middle, ends that come down or are folded back, and knots of the maker's own.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Literal

from coach.project.step_basics import About, Groups, Positions
from coach.yaml_reader.diagnostics import Span

Attaching = Literal["sewn", "lark's head", "knotted", "looped"]
Layer = Literal["", "front", "behind"]


@dataclass(frozen=True, slots=True)
class Make:
    """The pieces of a part made apart are made here."""

    about: About
    apart: str


@dataclass(frozen=True, slots=True)
class Attach:
    """One piece that was made apart is attached at some strands."""

    about: About
    apart: str
    at: Positions
    by: Attaching = "sewn"
    layer: Layer = ""
    adds_length: bool = False


@dataclass(frozen=True, slots=True)
class RigidRow:
    """Strands tie onto something rigid, one after the other, and keep their order.

    `diameter_mm` is how thick it is, None where the file does not say.
    """

    about: About
    knot: str
    onto: str
    across: Positions
    diameter_mm: float | None = None
    times: int = 1


@dataclass(frozen=True, slots=True)
class EndForEnd:
    """The work is turned end for end: the ends that waited above hang now."""

    about: About


@dataclass(frozen=True, slots=True)
class BringDown:
    """Free ends of the start come down so that the first stands at `at`."""

    about: About
    ends: tuple[str, ...]
    at: Positions


@dataclass(frozen=True, slots=True)
class FoldBack:
    """Strands are folded back along the work, leaving a loop that hangs `loop_mm` below it."""

    about: About
    strands: Positions
    loop_mm: float


@dataclass(frozen=True, slots=True)
class OwnKnot:
    """A knot of the maker's own.

    `uses_mm` has one length for each strand from the left, or one for all of them, measured in
    cord of `cord_mm` (None: in the cord of the file, as thick as it stands there). `order` is
    where the strands stand below it, by old position; empty where they keep their places.
    """

    span: Span
    name: str
    strands: int
    uses_mm: tuple[float, ...]
    size_mm: float
    order: tuple[int, ...] = ()
    passes: int = 1
    takes_s: tuple[float, float] | None = None
    how: tuple[str, ...] = ()
    like: str = ""
    cord_mm: float | None = None
    measured_in_mm: Mapping[str, float] = field(default_factory=lambda: MappingProxyType({}))


@dataclass(frozen=True, slots=True)
class OwnTied:
    """A knot of the maker's own, by its name in `Project.knots`, tied in each group."""

    about: About
    knot: str
    groups: Groups
    times: int = 1
