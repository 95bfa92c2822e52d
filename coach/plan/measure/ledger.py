"""The ledger: how far down every strand has got and the cord it has used."""

from array import array
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import chain
from math import hypot
from typing import TypeAlias

from coach.plan.steps import Count, Ledger, Strand
from coach.plan.tension import NOMINAL, Hands

KnotTotals: TypeAlias = dict[str, tuple[list[int], list[float]]]
"""What the knots of each kind use of a strand: after which counts, and how much in all, in mm."""


@dataclass(frozen=True, slots=True)
class Cluster:
    """A flat knot that others may stand under: its number of strands, and the knot."""

    strands: int
    knot: str


class StrandProgress:
    """One strand while measuring, in mm: how far down it hangs, and what it has used.

    `spot` is its place on the board, `place` the one where it was last tied. `scale` is the factor
    from the model's cord to what it really uses. The longest of its floats, its runs beside the
    work from one tie to the next, is kept with the count that ends it.
    """

    # No dataclass, and no lists of floats: each tie charges all of its strands.
    __slots__ = (
        "at", "cluster", "contact_mm", "cord", "down_mm", "float_at", "float_mm", "halved",
        "number", "place", "scale", "spot", "totals_mm", "used_mm",
    )  # fmt: skip

    def __init__(self, number: int, cord: str, contact_mm: float) -> None:
        """Hang a strand that has used nothing yet.

        Args:
            number: Its index among the strands of the plan.
            cord: The cord that it is of.
            contact_mm: Its contact diameter.
        """
        self.number = number
        self.cord = cord
        self.contact_mm = contact_mm
        self.down_mm = 0.0
        self.place = self.spot = 0
        self.cluster: Cluster | None = None
        self.halved = False  # not folded yet: the other end of its piece has the other half
        self.scale = 1.0
        self.float_mm = 0.0
        self.float_at = 0
        self.at = array("q")
        self.totals_mm = array("d")
        self.used_mm = 0.0

    def charge(self, count: int, length_mm: float) -> None:
        """Add cord that the strand uses in a count.

        Args:
            count: The index of the count.
            length_mm: How much it uses.
        """
        if length_mm * self.scale <= 0:
            return
        self.used_mm += length_mm * self.scale
        if self.at and self.at[-1] == count:
            self.totals_mm[-1] = self.used_mm
            return
        self.at.append(count)
        self.totals_mm.append(self.used_mm)


class Cordwork:
    """The ledger of a piece in mm: every strand, its column's width, the length of the work."""

    def __init__(
        self,
        strands: Sequence[Strand],
        contact_mm: Sequence[float],
        *,
        hands: Hands = NOMINAL,
        closed: bool = False,
        by_knot: bool = False,
    ) -> None:
        """Set up for the strands of a piece.

        Args:
            strands: All strands of the piece.
            contact_mm: Their contact diameters.
            hands: The maker's compression and slack.
            closed: Whether the work is in the round.
            by_knot: Whether to keep, for every strand, what knots of each kind use without slack,
                as counts and running totals.
        """
        self.hands = hands
        self.closed = closed
        self.strands = strands
        self.hanging = [
            StrandProgress(number, strand.cord, contact_mm[number])
            for number, strand in enumerate(strands)
        ]
        self.standing = 0  # strands on the board in the step at hand
        self.column = list(contact_mm)
        self.heights = array("d", [0.0])
        self.width_mm = 0.0
        self._stood: Sequence[int] = ()  # the order of which the width is known
        self.top_mm = 0.0
        self.lowest_mm = 0.0
        self.length_factor = 1.0
        self.folded = True
        self.knots: list[KnotTotals] = [{} for _ in strands] if by_knot else []
        self._factors: Mapping[str, float] = {}
        # Where each tie is, for pictures: its count, and between which heights it is tied.
        self.tied, self.line_mm, self.below_mm = array("q"), array("d"), array("d")
        self.unfolded_ties = 0
        self.doubled: set[int] = set()  # strands folded back: what goes round them adds no length

    def of(self, strands: Iterable[int]) -> list[StrandProgress]:
        """Return the ledger entries of strands, by their numbers."""
        return [self.hanging[strand] for strand in strands]

    def end_count(self, down_mm: float = 0.0) -> None:
        """Record the length of the work after one more count.

        Work done before the fold counts half, as it will once it is a loop.
        """
        if down_mm > self.lowest_mm:  # noqa: PLR1730 - at every tie, and max takes thrice as long
            self.lowest_mm = down_mm
        made = self.lowest_mm if self.folded else self.lowest_mm / 2
        self.heights.append(self.top_mm + made)

    def note_knot(self, count: int, strand: StrandProgress, knot: str, length_mm: float) -> None:
        """Record the cord that a knot takes of the strand that ties it, without slack.

        Args:
            count: The number of the tie in the plan.
            strand: The strand that ties it.
            knot: The knot's first name.
            length_mm: The cord that it takes, without slack.
        """
        at, totals = self.knots[strand.number].setdefault(knot, ([], []))
        at.append(count)
        factor = self._factors.get(strand.cord, 1.0)
        totals.append((totals[-1] if totals else 0.0) + length_mm * factor)

    def use_factors(self, cords: Mapping[str, float], length: float) -> None:
        """Set the factors for the model's cord, by cord, and for lengths from here on."""
        self.length_factor = length
        if cords is not self._factors:
            self._factors = cords
            self._scale()

    def _scale(self) -> None:
        for strand in self.hanging:
            strand.scale = self._factors.get(strand.cord, 1.0) / (2 if strand.halved else 1)

    def hang_as(self, order: Sequence[int], before: Sequence[int]) -> None:
        """Let strands swap places without being tied.

        Args:
            order: The strands from the left, as they hang from here on.
            before: The same strands as they hung until here.
        """
        for place, (strand, was) in enumerate(zip(order, before, strict=True)):
            if strand != was:
                self.hanging[strand].place = place

    def stand_at(self, order: Iterable[int]) -> None:
        """Set the order of the strands on the board."""
        for spot, strand in enumerate(order):
            self.hanging[strand].spot = spot

    def tie(
        self,
        count: int,
        strands: Iterable[StrandProgress],
        uses_mm: Iterable[float],
        line_mm: float,
        down_mm: float,
    ) -> None:
        """Run strands straight to a height, use cord in a knot there, and hang them below it.

        The run is a lower bound. One column sideways is part of the knots' own figures and costs
        nothing.

        Args:
            count: The index of the count.
            strands: The strands of the tie.
            uses_mm: What each of them uses in the knot, in the same order.
            line_mm: How far down the work the knot begins.
            down_mm: How far down it ends.
        """
        self.tied.append(count)
        self.line_mm.append(line_mm)
        self.below_mm.append(down_mm)
        # All that a tie does to its strands in one loop: this is where measuring spends its time.
        for strand, use_mm in zip(strands, uses_mm):  # noqa: B905 - as many; to check takes long
            used, scale, run = strand.used_mm, strand.scale, line_mm - strand.down_mm
            if strand.spot != strand.place:
                run = self._aside_mm(strand, run)
                strand.place = strand.spot
            if run > 0:
                used += run * scale
                if run > strand.float_mm and self.folded:
                    strand.float_mm, strand.float_at = run, count
            used += use_mm * scale
            if used > strand.used_mm:
                strand.used_mm = used
                strand.at.append(count)
                strand.totals_mm.append(used)
            strand.down_mm = down_mm

    def _aside_mm(self, strand: StrandProgress, fall_mm: float) -> float:
        """Return the length of a strand's way to another place, where it is tied next."""
        columns = abs(strand.spot - strand.place)
        if self.closed:
            columns = min(columns, abs(self.standing - columns))
        return hypot(max(0, columns - 1) * self.column[strand.number], max(0.0, fall_mm))

    def lower(self, strand: StrandProgress, down_mm: float) -> None:
        """Let a strand hang from further down."""
        strand.down_mm = down_mm
        self.lowest_mm = max(self.lowest_mm, down_mm)

    def spread(self, strands: Sequence[StrandProgress], across_mm: float) -> None:
        """Divide the width of a knot among its strands' columns.

        Args:
            strands: The strands of the knot, from the left.
            across_mm: The width of the knot.
        """
        column_mm = across_mm / len(strands)
        for strand in strands:
            if self.column[strand.number] != column_mm:
                self.column[strand.number] = column_mm
                self._stood = ()

    def stand(self, order: Sequence[int]) -> None:
        """Record the greatest width that the columns on the board have had together."""
        if order is not self._stood:
            self.width_mm = max(self.width_mm, sum(map(self.column.__getitem__, order)))
            self._stood = order

    def unfold(self) -> None:
        """Begin work on the pieces' middles before they are folded, each named by its end a."""
        self.folded = False
        for strand, hanging in zip(self.strands, self.hanging, strict=True):
            hanging.halved = strand.origin == "hung" and strand.end == "a" and not strand.single
        self._scale()

    def fold(self, order: Sequence[int]) -> None:
        """Fold the worked middles: they become a loop, half as long, above the rest."""
        self._halve()
        self.top_mm = self.lowest_mm / 2
        self.unfolded_ties = len(self.tied)
        self.lowest_mm = 0.0
        self.folded = True
        self.width_mm, self._stood = 0.0, ()
        for strand in self.hanging:
            strand.down_mm, strand.cluster = 0.0, None
        for place, strand in enumerate(self.of(order)):
            strand.place = place

    def _halve(self) -> None:
        """Move half of what was used in the middle to the other end of each piece."""
        for strand in self.hanging:
            if strand.halved:
                other = self.hanging[strand.number + 1]
                other.at, other.totals_mm = strand.at[:], strand.totals_mm[:]
                other.used_mm, strand.halved = strand.used_mm, False
        self._scale()

    def ledgers(self, counts: Iterable[Count]) -> tuple[Ledger, ...]:
        """Return each strand's running totals, and in how many ties it knotted and filled."""
        self._halve()
        ties = [count for count in counts if count.knot]
        knotted = Counter(chain.from_iterable([count.knotters for count in ties]))
        filled = Counter(chain.from_iterable([count.fillers for count in ties]))
        return tuple(
            Ledger(s.at, s.totals_mm, knotted[s.number], filled[s.number], s.float_mm, s.float_at)
            for s in self.hanging
        )


def lowest_mm(strands: Iterable[StrandProgress]) -> float:
    """Return how far down the lowest of these strands hangs: nothing is pulled up above it."""
    return max([strand.down_mm for strand in strands])
