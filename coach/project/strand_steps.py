"""Steps on the strands themselves: turning, crossing, gaps, adding, laying aside, trimming."""

from dataclasses import dataclass

from coach.project.cord_model import Fold, ListedPiece
from coach.project.step_basics import About, Groups, Positions


@dataclass(frozen=True, slots=True)
class Turn:
    """The holder turns round a neighbour, or round a pin (`around` is None)."""

    about: About
    holder: Positions
    around: Positions | None


@dataclass(frozen=True, slots=True)
class Cross:
    """Strands are put into a new order, given by old positions from the left, with no knot."""

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
    pieces: tuple[ListedPiece, ...]
    at: Positions
    onto: Positions | None = None
    by: str = ""
    fold: Fold | None = None


@dataclass(frozen=True, slots=True)
class LayAside:
    """Strands are laid aside, and the others close up."""

    about: About
    strands: Positions
    leave_mm: float | None = None


@dataclass(frozen=True, slots=True)
class TakeUp:
    """Strands laid aside before are taken up again, the first one at `at`."""

    about: About
    strands: tuple[str, ...]
    at: Positions


@dataclass(frozen=True, slots=True)
class Trim:
    """Ends are cut below the last knot, to `middle_mm` in the middle where it is given."""

    about: About
    strands: Positions
    leave_mm: float
    middle_mm: float | None = None
