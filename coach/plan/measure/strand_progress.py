"""One strand while measuring: where it hangs, and the cord it has used."""

from array import array
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from itertools import accumulate

from coach.plan.steps import Ledger


@dataclass(slots=True, eq=False)
class Cluster:
    """A flat knot that others may stand under: its number of strands, and the knot."""

    strands: int
    knot: str


@dataclass(slots=True, eq=False)
class StrandProgress:
    """One strand while measuring, in mm: how far down it hangs, and what it has used.

    `number` is its index among the strands of the plan. `spot` is its place on the board, `place`
    the one where it was last tied. `scale` is the factor from the model's cord to what it really
    uses; a `halved` strand is not folded yet, and the other end of its piece has the other half.
    The longest of its floats, its runs beside the work from one tie to the next, is kept with the
    count that ends it. In count `at[i]` it used `added_mm[i]`.
    """

    number: int
    cord: str
    contact_mm: float
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
        """Add cord that the strand uses in a count.

        Args:
            count: The index of the count.
            length_mm: How much it uses.
        """
        if length_mm > 0:
            self.at.append(count)
            self.added_mm.append(length_mm * self.scale)

    def charge_each(self, counts: Sequence[int], lengths_mm: Iterable[float]) -> None:
        """Add cord that the strand uses in each of some counts."""
        self.at.extend(counts)
        self.added_mm.extend([length_mm * self.scale for length_mm in lengths_mm])

    @property
    def ledger(self) -> Ledger:
        """The running totals of its cord."""
        used_mm = array("d", accumulate(self.added_mm))
        return Ledger(self.at, used_mm, self.float_mm, self.float_at)


def lowest_mm(strands: Iterable[StrandProgress]) -> float:
    """Return how far down the lowest of these strands hangs: nothing is pulled up above it."""
    return max([strand.down_mm for strand in strands])
