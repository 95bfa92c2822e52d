"""A strand as it hangs in the work: where it is, how far down, and what it has used."""

from array import array
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from itertools import accumulate

from coach.plan.steps import Ledger


@dataclass(slots=True, eq=False)
class Cluster:
    """A flat knot that others may stand under: of how many strands, and which knot."""

    strands: int
    knot: str


@dataclass(slots=True, eq=False)
class StrandProgress:
    """One strand as it hangs, lengths in mm: how far down the work, and what it has used so far.

    `number` is its index among the strands of the plan, `column_mm` its share of the width of the
    knot that it hangs from. `spot` is where it stands on the board, `place` where it stood when it
    was tied last. `scale` is what it really uses of the cord that the model charges; a strand that
    is `halved` is not folded yet, and the other end of its piece has the other half. Of its
    floats, its runs beside the work from one tie to the next, the longest is kept, with the count
    that ends it. In count `at[i]` it used `added_mm[i]` more.
    """

    number: int
    cord: str
    contact_mm: float
    column_mm: float
    down_mm: float = 0.0
    place: int = 0
    spot: int = 0
    cluster: Cluster | None = None
    halved: bool = False
    scale: float = 1.0
    float_mm: float = 0.0
    float_at: int = 0
    at: "array[int]" = field(default_factory=lambda: array("q"))
    added_mm: "array[float]" = field(default_factory=lambda: array("d"))

    def charge(self, count: int, length_mm: float) -> None:
        """Book that the strand uses cord in a count.

        Args:
            count: The index of the count.
            length_mm: How much it uses, in mm.
        """
        if length_mm > 0:
            self.at.append(count)
            self.added_mm.append(length_mm * self.scale)

    def charge_each(self, counts: Sequence[int], lengths_mm: Iterable[float]) -> None:
        """Book that the strand uses cord in each of some counts."""
        self.at.extend(counts)
        self.added_mm.extend([length_mm * self.scale for length_mm in lengths_mm])

    @property
    def ledger(self) -> Ledger:
        """What it has used in all, count by count."""
        used_mm = array("d", accumulate(self.added_mm))
        return Ledger(self.at, used_mm, self.float_mm, self.float_at)


def lowest_mm(strands: Iterable[StrandProgress]) -> float:
    """Return the greatest height among strands: nothing is pulled up above it."""
    return max([strand.down_mm for strand in strands])
