"""Where every strand has got to and what it has used: the books kept while measuring."""

from array import array
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from itertools import chain
from math import hypot
from typing import Final, NamedTuple

from coach.plan.hands import NOMINAL, Hands
from coach.plan.model import Count, Ledger, Strand

LONG_LOOSE_MM: Final = 80.0
"""How far a strand may run behind or beside the work before it snags: rough, no source."""


class Cluster(NamedTuple):
    """A flat knot that others may stand under: of how many strands, and which knot."""

    strands: int
    knot: str


class Hanging:
    """One strand as it hangs, lengths in mm: how far down the work, and what it has used so far.

    `spot` is where it stands on the board, `place` where it stood when it was tied last. Before
    the fold, `twin` is the other end of its piece, which has half of what it is charged.
    """

    # No dataclass, and no lists of floats: each tie charges all of its strands.
    __slots__ = (
        "_last", "_used_mm", "at", "cluster", "contact_mm", "cord", "down_mm", "factor", "fell",
        "number", "place", "spot", "totals_mm", "twin",
    )  # fmt: skip

    def __init__(self, number: int, cord: str, contact_mm: float) -> None:
        self.number = number
        self.cord = cord
        self.contact_mm = contact_mm
        self.down_mm = 0.0
        self.place = self.spot = 0
        self.cluster: Cluster | None = None
        self.twin: Hanging | None = None
        self.factor = 1.0  # what the model's cord is to be multiplied by
        self.fell: tuple[int, float] | None = None  # see `Ledger`
        self.at = array("q")
        self.totals_mm = array("d")
        self._last = -1
        self._used_mm = 0.0

    def charge(self, count: int, length_mm: float) -> None:
        """Let the strand use cord in a count."""
        if self.twin is not None:
            length_mm /= 2
            self.twin.charge(count, length_mm)
        length_mm *= self.factor
        if length_mm <= 0:
            return
        self._used_mm += length_mm
        if count == self._last:
            self.totals_mm[-1] = self._used_mm
            return
        self._last = count
        self.at.append(count)
        self.totals_mm.append(self._used_mm)


class Cordwork:
    """Every strand as it hangs, the width of its column in mm, and the length of the work."""

    def __init__(
        self,
        strands: Sequence[Strand],
        contact_mm: Sequence[float],
        *,
        hands: Hands = NOMINAL,
        closed: bool = False,
        by_knot: bool = False,
    ) -> None:
        """Take up strands.

        Args:
            strands: All strands of the piece.
            contact_mm: Their contact diameters.
            hands: Who ties them.
            closed: Whether the work is in the round.
            by_knot: Whether to keep, for every strand, what its knots of each kind use but for
                their slack, as counts and totals.
        """
        self.hands = hands
        self.closed = closed
        self.strands = strands
        self.hanging = [
            Hanging(number, strand.cord, contact_mm[number])
            for number, strand in enumerate(strands)
        ]
        self.standing = 0  # strands on the board in the step at hand
        self.column = list(contact_mm)
        self.heights = array("d", [0.0])
        self.width_mm = 0.0
        self.top_mm = 0.0
        self.lowest_mm = 0.0
        self.length_factor = 1.0
        self.folded = True
        self.knots: list[dict[str, tuple[list[int], list[float]]]] = (
            [{} for _ in strands] if by_knot else []
        )
        self._factors: Mapping[str, float] = {}

    def of(self, strands: Iterable[int]) -> list[Hanging]:
        """Give strands as they hang, by their numbers."""
        return [self.hanging[strand] for strand in strands]

    def end_count(self) -> None:
        """Keep the length of the work as it is after this count; a loop to be is half as long."""
        made = self.lowest_mm if self.folded else self.lowest_mm / 2
        self.heights.append(self.top_mm + made)

    def note_knot(self, count: int, strand: Hanging, knot: str, length_mm: float) -> None:
        """Note the cord that a knot takes of the strand that ties it, slack left out."""
        at, totals = self.knots[strand.number].setdefault(knot, ([], []))
        at.append(count)
        totals.append((totals[-1] if totals else 0.0) + length_mm * strand.factor)

    def use_factors(self, cords: Mapping[str, float], length: float) -> None:
        """Multiply the model's cord, by its name, and the length of the work from here on."""
        self.length_factor = length
        if cords is not self._factors:
            self._factors = cords
            for strand in self.hanging:
                strand.factor = cords.get(strand.cord, 1.0)

    def hang_as(self, order: Sequence[int], before: Sequence[int]) -> None:
        """Let strands hang in other places than before, as they were found to."""
        for place, (strand, was) in enumerate(zip(order, before, strict=True)):
            if strand != was:
                self.hanging[strand].place = place

    def stand_at(self, order: Iterable[int]) -> None:
        """Let the strands of the board stand in this order."""
        for spot, strand in enumerate(order):
            self.hanging[strand].spot = spot

    def reach(self, count: int, strand: Hanging, place: int, down_mm: float) -> None:
        """Run a strand straight to where it is tied next, a lower bound.

        One column sideways belongs to the knots' own figures and costs nothing.
        """
        columns = abs(place - strand.place)
        if self.closed:
            columns = min(columns, abs(self.standing - columns))
        fall = max(0.0, down_mm - strand.down_mm)
        if fall > LONG_LOOSE_MM and self.folded and strand.fell is None:
            strand.fell = (count, fall)
        if columns > 1:
            strand.charge(count, hypot((columns - 1) * self.column[strand.number], fall))
        elif fall:
            strand.charge(count, fall)

    def lower(self, strand: Hanging, down_mm: float) -> None:
        """Let a strand hang from a new height."""
        strand.down_mm = down_mm
        self.lowest_mm = max(self.lowest_mm, down_mm)

    def spread(self, strands: Sequence[Hanging], across_mm: float) -> None:
        """Share the width of a knot among its strands' columns."""
        column_mm = across_mm / len(strands)
        for strand in strands:
            self.column[strand.number] = column_mm

    def stand(self, order: Iterable[int]) -> None:
        """Keep the greatest width that the columns of the strands on the board have had."""
        self.width_mm = max(self.width_mm, sum(map(self.column.__getitem__, order)))

    def unfold(self) -> None:
        """Work the pieces' middles before they are folded, each piece named by its end a."""
        self.folded = False
        for strand, hanging in zip(self.strands, self.hanging, strict=True):
            if strand.origin == "hung" and strand.end == "a" and not strand.single:
                hanging.twin = self.hanging[hanging.number + 1]

    def fold(self, order: Sequence[int]) -> None:
        """Fold the worked middles: what was made is a loop, half as long, above the rest."""
        self.top_mm = self.lowest_mm / 2
        self.lowest_mm = 0.0
        self.folded = True
        self.width_mm = 0.0
        for strand in self.hanging:
            strand.down_mm, strand.cluster, strand.twin = 0.0, None, None
        for place, strand in enumerate(self.of(order)):
            strand.place = place

    def ledgers(self, counts: Iterable[Count]) -> tuple[Ledger, ...]:
        """Give each strand's running totals, and in how many ties it knotted and filled."""
        ties = [count for count in counts if count.knot]
        knotted = Counter(chain.from_iterable([count.knotters for count in ties]))
        filled = Counter(chain.from_iterable([count.fillers for count in ties]))
        return tuple(
            Ledger(s.at, s.totals_mm, knotted[s.number], filled[s.number], s.fell)
            for s in self.hanging
        )


def lowest_mm(strands: Iterable[Hanging]) -> float:
    """Give the greatest height among strands: nothing is pulled up above it."""
    return max([strand.down_mm for strand in strands])
