"""Steps that tie or plait: rows, knots on groups and round others, nets, plaits."""

from dataclasses import dataclass
from typing import Literal

from coach.project.step_basics import About, Groups, Positions


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

    With `among`, the knotter is the one of these strands that has most cord left.
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
    """Rows of knots, alternate rows offset by half a group."""

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
