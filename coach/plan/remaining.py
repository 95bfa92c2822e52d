"""Cord left on every strand, now and at the end, as ranges."""

from bisect import bisect_left
from dataclasses import dataclass

from coach.plan.cuts import CordCut, Piece, cut_list, pieces_of
from coach.plan.model import Plan

USE_RANGE = (0.92, 1.12)
"""What a maker's cord may use for the model's one: hands and cords differ in how firm they are.

Rough, narrower than the range of compressions alone (0.7 to 0.95 for 0.78), since a finished
length is kept to while the knots that it needs change with the cord.
"""


@dataclass(frozen=True, slots=True)
class StrandLeft:
    """Cord left on one strand in mm: now and at the end, each from the least to the most.

    `short` says that even the most leaves less than its tail; `runs_out_at` is the count at which
    the likely figure is used up but for the tail, or None.
    """

    strand: int
    now_low_mm: float
    now_high_mm: float
    end_low_mm: float
    end_high_mm: float
    short: bool
    runs_out_at: int | None


def shares_mm(plan: Plan, cuts: tuple[CordCut, ...]) -> dict[int, float]:
    """Give the length that each strand hangs with: its share of its cut piece."""
    lengths = {(cut.cord, cut.origin): cut.cut_mm for cord in cuts for cut in cord.cuts}
    shares = {}
    for piece in pieces_of(plan):
        hanging = lengths[piece.cord, piece.origin] - piece.around_mm
        shares.update(_shared(plan, piece, hanging))
    return shares


def _shared(plan: Plan, piece: Piece, hanging_mm: float) -> dict[int, float]:
    """Share a piece between its strands: halves, or by need where it is folded to fit."""
    needs = [
        plan.ledgers[s].total_mm + plan.tail_mm[s] if piece.fitted else 1.0 for s in piece.strands
    ]
    whole = sum(needs) or 1.0
    return {s: hanging_mm * n / whole for s, n in zip(piece.strands, needs, strict=True)}


class CordLeft:
    """Answers how much cord is left; what does not change with the count is worked out once."""

    def __init__(self, plan: Plan, cuts: tuple[CordCut, ...] | None = None) -> None:
        self._plan = plan
        self._shares = shares_mm(plan, cut_list(plan) if cuts is None else cuts)

    def at(self, done: int) -> tuple[StrandLeft, ...]:
        """Give every strand after `done` counts, those to come too, the worst one first."""
        found = [self._strand(strand, done) for strand in self._shares]
        return tuple(sorted(found, key=lambda left: left.end_low_mm - self._tail(left.strand)))

    def _tail(self, strand: int) -> float:
        return self._plan.tail_mm[strand]

    def _strand(self, strand: int, done: int) -> StrandLeft:
        share, ledger = self._shares[strand], self._plan.ledgers[strand]
        used, total = ledger.used_after(done), ledger.total_mm
        low, high = USE_RANGE
        end_high = share - total * low
        over = bisect_left(ledger.used_mm, share - self._tail(strand) + 1e-6)
        return StrandLeft(
            strand,
            max(0.0, share - used * high),
            max(0.0, share - used * low),
            max(0.0, share - total * high),
            max(0.0, end_high),
            end_high < self._tail(strand),
            ledger.at[over] if over < len(ledger.at) else None,
        )
