"""The height of every tie, as the measuring pass leaves it."""

from collections.abc import Sequence
from dataclasses import dataclass

from coach.plan.measure.ledger import Cordwork


@dataclass(frozen=True, slots=True)
class Places:
    """The heights of a plan's ties, in mm down from the top of the work, and shared figures.

    `top_mm` and `bottom_mm` are, by count, the heights between which it is tied; a count that ties
    nothing has the length of the work then for both. Those before a fold are measured along the
    open loop, which is `fold_mm` high once it is folded. `made_mm` is the length of the work
    after 0, 1, 2 ... counts, `width_mm` that of the finished work across, and `contact_mm` each
    strand's contact diameter.
    """

    top_mm: Sequence[float]
    bottom_mm: Sequence[float]
    made_mm: Sequence[float]
    fold_mm: float
    width_mm: float
    contact_mm: Sequence[float]


def tie_places(work: Cordwork) -> Places:
    """Return the places of the ties recorded in a ledger."""
    contact = [strand.contact_mm for strand in work.hanging]
    return Places(work.line_mm, work.below_mm, work.heights, work.top_mm, work.width_mm, contact)
