"""The ledger: how far down every strand has got and the cord it has used."""

from array import array
from collections.abc import Iterable, Mapping, Sequence
from itertools import accumulate
from math import hypot
from typing import TypeAlias

from coach.plan.measure.strand_progress import Cluster, StrandProgress
from coach.plan.steps import Count, Ledger, Strand
from coach.plan.tension import NOMINAL, Hands

KnotTotals: TypeAlias = dict[str, tuple[list[int], list[float]]]
"""What the knots of each kind use of a strand: after which counts, and how much in all, in mm."""

Ends: TypeAlias = tuple[float, float]
"""How far down the work a tie begins, and how far down it ends, in mm."""


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
        self.column = list(contact_mm)  # apart from the strands: all of it is often summed up
        self.heights = array("d", [0.0])
        self.width_mm = 0.0
        self._stood: Sequence[int] = ()  # the order of which the width is known
        self.top_mm = 0.0
        self.lowest_mm = 0.0
        self.length_factor = 1.0
        self.folded = True
        self.share = 1.0  # of what is made that adds to the length: a loop to be counts half
        self._tied_in: dict[int, list[StrandProgress]] = {}
        self.knots: list[KnotTotals] = [{} for _ in strands] if by_knot else []
        self._factors: Mapping[str, float] = {}
        # Between which heights each count is tied, for pictures.
        self.line_mm, self.below_mm = array("d"), array("d")
        self.doubled: set[int] = set()  # strands folded back: what goes round them adds no length

    def of(self, strands: Iterable[int]) -> list[StrandProgress]:
        """Return the ledger entries of strands, by their numbers."""
        return [self.hanging[strand] for strand in strands]

    def tied_in(self, count: Count) -> list[StrandProgress]:
        """Return the strands of a tie as they hang, knotters first."""
        found = self._tied_in.get(id(count))
        if found is None:
            found = self._tied_in[id(count)] = self.of(count.knotters + count.fillers)
        return found

    def end_counts(self, lines_mm: Sequence[float], downs_mm: Sequence[float]) -> None:
        """Record the heights of counts, and the length of the work after each.

        Args:
            lines_mm: How far down the work each begins.
            downs_mm: How far down it ends.
        """
        heights = list(accumulate(downs_mm, max, initial=self.lowest_mm))[1:]
        self.lowest_mm = heights[-1]
        if self.top_mm or not self.folded:  # below a loop, or the loop, which counts half
            lines_mm = [self.top_mm + mm for mm in lines_mm]
            downs_mm = [self.top_mm + mm for mm in downs_mm]
            heights = [self.top_mm + mm * self.share for mm in heights]
        self.line_mm.extend(lines_mm)
        self.below_mm.extend(downs_mm)
        self.heights.extend(heights)

    def end_untied(self) -> None:
        """Record the length of the work after a count that ties nothing."""
        self.line_mm.append(self.heights[-1])
        self.below_mm.append(self.heights[-1])
        self.heights.append(self.top_mm + self.lowest_mm * self.share)

    def goes_back(self, strands: Iterable[StrandProgress]) -> bool:
        """Return whether what is tied on strands goes round any that is folded back."""
        return bool(self.doubled) and any(strand.number in self.doubled for strand in strands)

    def note_knots(
        self, count: int, knot: str, strands: Iterable[StrandProgress], lengths_mm: Iterable[float]
    ) -> None:
        """Note the cord that a knot takes of those that tie it, slack left out.

        Args:
            count: The number of the tie in the plan.
            knot: The knot's first name.
            strands: The strands that tie it, and others after them.
            lengths_mm: The cord that it takes of each that ties it, without slack.
        """
        for strand, length_mm in zip(strands, lengths_mm, strict=False):
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
        *,
        free: bool = False,
    ) -> None:
        """Run strands straight to a height, use cord in a knot there, and hang them below it.

        The run is a lower bound. One column sideways is part of the knots' own figures and costs
        nothing.

        Args:
            count: The index of the count.
            strands: The strands of the tie.
            uses_mm: What each of them uses in the knot, in mm, in the same order.
            line_mm: How far down the work the knot begins, in mm from the top.
            down_mm: How far down it ends, in mm from the top.
            free: Whether strands hang free above it on purpose, so that their runs are no floats.
        """
        floats = self.folded and not free
        # All that a tie does to its strands in one loop: this is where measuring spends its time.
        for strand, use_mm in zip(strands, uses_mm):  # noqa: B905 - as many; to check takes long
            run = line_mm - strand.down_mm
            strand.down_mm = down_mm
            if strand.spot != strand.place:
                run = self._aside_mm(count, strand, run)
            if run > 0:
                use_mm += run  # noqa: PLW2901 - what it uses in all
                if run > strand.float_mm and floats:
                    strand.float_mm, strand.float_at = run, count
            strand.at.append(count)
            strand.added_mm.append(use_mm * strand.scale)

    def _aside_mm(self, count: int, strand: StrandProgress, fall_mm: float) -> float:
        """Return the way of a strand that a count ties in another place, which is a float."""
        columns = abs(strand.spot - strand.place)
        if self.closed:
            columns = min(columns, abs(self.standing - columns))
        strand.place = strand.spot
        run = hypot(max(0, columns - 1) * self.column[strand.number], max(0.0, fall_mm))
        if run > strand.float_mm and self.folded:
            strand.float_mm, strand.float_at = run, count
        return run

    def lower(self, strand: StrandProgress, down_mm: float) -> None:
        """Let a strand hang from further down."""
        strand.down_mm = down_mm
        self.lowest_mm = max(self.lowest_mm, down_mm)

    def spread(
        self,
        strands: Iterable[StrandProgress],
        columns_mm: Iterable[float],
        cluster: Cluster | None = None,
    ) -> None:
        """Set the widths of strands' columns in a knot, and let others stand under it.

        Args:
            strands: The strands of the knot.
            columns_mm: The width of the column of each.
            cluster: The flat knot, for those that stand under it; None for another knot.
        """
        column = self.column
        for strand, column_mm in zip(strands, columns_mm):  # noqa: B905 - see `tie`
            strand.cluster = cluster
            if column[strand.number] != column_mm:
                column[strand.number] = column_mm
                self._stood = ()

    def columns(self, strands: Iterable[StrandProgress]) -> list[float]:
        """Return the widths of strands' columns, in mm."""
        return [self.column[strand.number] for strand in strands]

    def stand(self, order: Sequence[int]) -> None:
        """Record the greatest width that the columns on the board have had together."""
        if order is not self._stood:
            self.width_mm = max(self.width_mm, sum(map(self.column.__getitem__, order)))
            self._stood = order

    def unfold(self) -> None:
        """Work the pieces' middles before they are folded, each piece named by its end a."""
        self.folded, self.share = False, 0.5
        for strand, hanging in zip(self.strands, self.hanging, strict=True):
            hanging.halved = strand.origin == "hung" and strand.end == "a" and not strand.single
        self._scale()

    def fold(self, order: Sequence[int]) -> None:
        """Fold the worked middles: they become a loop, half as long, above the rest."""
        self._halve()
        self.top_mm = self.lowest_mm / 2
        self.lowest_mm = 0.0
        self.folded, self.share = True, 1.0
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
                other.at, other.added_mm = strand.at[:], strand.added_mm[:]
                strand.halved = False
        self._scale()

    def ledgers(self) -> tuple[Ledger, ...]:
        """Return each strand's running totals."""
        self._halve()
        return tuple([strand.ledger for strand in self.hanging])
