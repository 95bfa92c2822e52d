"""Where every tie has its place: kept while the plan's cord and size are measured."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

from coach.plan.measure.ledger import Cordwork, Hanging
from coach.plan.measure.measure import measured_work
from coach.plan.measure.slant import slants
from coach.plan.steps import Unfolded


@dataclass(frozen=True, slots=True)
class Places:
    """The heights of a plan's ties, in mm down from the top of the work, and what they share.

    Attributes:
        top_mm: Height at which each count's strands begin to be tied; a count that ties nothing
            has that of the work then. Counts before a fold are measured along the open loop.
        bottom_mm: Height at which they hang below it.
        made_mm: Length of the work after 0, 1, 2 ... counts.
        fold_mm: Height of the loop that was worked before the fold.
        width_mm: Width of the finished work.
        contact_mm: Contact diameter of each strand.
        slanting: For each step, whether it is a row that slants.
    """

    top_mm: Sequence[float]
    bottom_mm: Sequence[float]
    made_mm: Sequence[float]
    fold_mm: float
    width_mm: float
    contact_mm: Sequence[float]
    slanting: Sequence[bool]


class _Placing(Cordwork):
    """Books that also keep between which heights each count was tied."""

    def __init__(self, *given: Any, **more: Any) -> None:
        super().__init__(*given, **more)
        self.lines: dict[int, tuple[float, float]] = {}

    def tie(
        self,
        count: int,
        strands: Iterable[Hanging],
        uses_mm: Iterable[float],
        line_mm: float,
        down_mm: float,
    ) -> None:
        top = self.top_mm if self.folded else 0.0
        self.lines[count] = (top + line_mm, top + down_mm)
        super().tie(count, strands, uses_mm, line_mm, down_mm)


def places(plan: Unfolded) -> Places:
    """Measure a plan once more in its hands and return where its ties are.

    It is the pass that gives the plan its length, so the two cannot differ.
    """
    books: list[_Placing] = []

    def kept(*given: Any, **more: Any) -> Cordwork:
        books.append(_Placing(*given, **more))
        return books[-1]

    work = measured_work(plan, kept)
    lines, made = books[-1].lines, work.heights
    both = [lines.get(count, (made[count], made[count])) for count in range(len(plan.counts))]
    return Places(
        [top for top, _ in both],
        [bottom for _, bottom in both],
        made,
        work.top_mm,
        work.width_mm,
        [strand.contact_mm for strand in work.hanging],
        slants(plan.steps),
    )
