"""Where every strand has got to and what it has used: the books kept while measuring."""

from collections.abc import Iterable, Mapping, Sequence
from math import hypot

from coach.plan.hands import NOMINAL, Hands
from coach.plan.model import Count, Ledger, Strand


class Cordwork:
    """One strand a line: height down the work, place on the board, column width, cord used.

    Lengths in mm. `start_count` says which count is charged from then on.
    """

    def __init__(
        self,
        strands: Sequence[Strand],
        contact_mm: Sequence[float],
        *,
        hands: Hands = NOMINAL,
        closed: bool = False,
    ) -> None:
        number = len(strands)
        self.hands = hands
        self.closed = closed
        self.standing = 0  # strands on the board in the step at hand
        self.strands = strands
        self.contact_mm = contact_mm
        self.down = [0.0] * number
        self.place = [0] * number
        self.column = list(contact_mm)
        self.cluster = [0] * number
        self.heights = [0.0]
        self.width_mm = 0.0
        self.top_mm = 0.0
        self.cord_factors: Mapping[str, float] = {}
        self.length_factor = 1.0
        self.folded = True
        self._used = [0.0] * number
        self._at: list[list[int]] = [[] for _ in strands]
        self._totals: list[list[float]] = [[] for _ in strands]
        self.count = 0
        self._lowest = 0.0

    def start_count(self, count: int) -> None:
        """Charge count number `count` from here on."""
        self.count = count

    def end_count(self) -> None:
        """Keep the length of the work as it is after this count; a loop to be is half as long."""
        made = self._lowest if self.folded else self._lowest / 2
        self.heights.append(self.top_mm + made)

    def tie(self, strand: int, knot: str, length_mm: float) -> None:
        """Let a strand knot: it uses the knot's cord and what these hands leave slack."""
        slack = self.hands.slack
        if slack:
            length_mm *= 1 + slack.get((self.strands[strand].cord, knot), 0.0)
        self.charge(strand, length_mm)

    def hang_as(self, order: Sequence[int], before: Sequence[int]) -> None:
        """Let strands hang in other places than before, as they were found to."""
        for place, (strand, was) in enumerate(zip(order, before, strict=True)):
            if strand != was:
                self.place[strand] = place

    def charge(self, strand: int, length_mm: float) -> None:
        """Let a strand use cord; before the fold, each half of its piece has half of it."""
        if self.cord_factors:
            length_mm *= self.cord_factors.get(self.strands[strand].cord, 1.0)
        if self.folded or self.strands[strand].single or self.strands[strand].origin != "hung":
            self._put(strand, length_mm)
            return
        self._put(strand, length_mm / 2)
        self._put(strand + 1, length_mm / 2)

    def _put(self, strand: int, length_mm: float) -> None:
        if length_mm <= 0:
            return
        self._used[strand] += length_mm
        at, totals = self._at[strand], self._totals[strand]
        if at and at[-1] == self.count:
            totals[-1] = self._used[strand]
            return
        at.append(self.count)
        totals.append(self._used[strand])

    def lowest(self, strands: Iterable[int]) -> float:
        """Give the greatest height among strands: nothing is pulled up above it."""
        return max(self.down[strand] for strand in strands)

    def reach(self, strand: int, place: int, down_mm: float) -> None:
        """Run a strand straight to where it is tied next, a lower bound.

        One column sideways belongs to the knots' own figures and costs nothing.
        """
        columns = abs(place - self.place[strand])
        if self.closed:
            columns = min(columns, abs(self.standing - columns))
        columns -= 1
        fall = max(0.0, down_mm - self.down[strand])
        if columns > 0 or fall:
            self.charge(strand, hypot(max(0, columns) * self.column[strand], fall))

    def gain(self, length_mm: float) -> float:
        """Give a length of work as this maker makes it."""
        return length_mm * self.length_factor

    def lower(self, strand: int, down_mm: float) -> None:
        """Let a strand hang from a new height."""
        self.down[strand] = down_mm
        self._lowest = max(self._lowest, down_mm)

    def spread(self, strands: Sequence[int], across_mm: float) -> None:
        """Share the width of a knot among its strands' columns."""
        for strand in strands:
            self.column[strand] = across_mm / len(strands)

    def stand(self, order: Sequence[int]) -> None:
        """Keep the greatest width that the columns of the strands on the board have had."""
        self.width_mm = max(self.width_mm, sum(self.column[strand] for strand in order))

    def fold(self, order: Sequence[int]) -> None:
        """Fold the worked middles: what was made is a loop, half as long, above the rest."""
        self.top_mm = self._lowest / 2
        self._lowest = 0.0
        self.folded = True
        self.width_mm = 0.0
        for strand in range(len(self.strands)):
            self.down[strand] = 0.0
            self.cluster[strand] = 0
        for place, strand in enumerate(order):
            self.place[strand] = place

    def ledgers(self, counts: Iterable[Count]) -> tuple[Ledger, ...]:
        """Give each strand's running totals, and in how many ties it knotted and filled."""
        knotted, filled = [0] * len(self.strands), [0] * len(self.strands)
        for count in counts:
            if count.knot:
                for strand in count.knotters:
                    knotted[strand] += 1
                for strand in count.fillers:
                    filled[strand] += 1
        return tuple(
            Ledger(tuple(at), tuple(totals), has_knotted, has_filled)
            for at, totals, has_knotted, has_filled in zip(
                self._at, self._totals, knotted, filled, strict=True
            )
        )
