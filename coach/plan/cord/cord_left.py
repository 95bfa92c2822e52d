"""Cord left on every strand, now and at the end, as ranges that hold four times in five."""

from bisect import bisect_left
from collections.abc import Mapping
from dataclasses import dataclass
from math import hypot
from typing import Final

from coach.plan.cord.cut_list import CordCut, cut_list, lengths_of
from coach.plan.cord.cutting import Cutting
from coach.plan.doubt.doubt import MODEL_SD, READING_SD_MM, told
from coach.plan.measure.sensitivity import ManySlopes
from coach.plan.measure.tension import Spread
from coach.plan.plan_model import Plan

Z80: Final = 1.2815515655446004
"""Half the width of the middle 80 % of a normal, in standard deviations."""

@dataclass(frozen=True, slots=True)
class StrandLeft:
    """Cord left on one strand in mm: now and at the end, each from the least to the most.

    `short` says that even the most leaves less than its tail; `runs_out_at` is the count at which
    the likely figure is used up but for the tail, or None. `now_mm` and `end_mm` are the likely
    figures, below zero where the strand would not even reach the end.
    """

    strand: int
    now_low_mm: float
    now_high_mm: float
    end_low_mm: float
    end_high_mm: float
    short: bool
    runs_out_at: int | None
    now_mm: float = 0.0
    end_mm: float = 0.0


@dataclass(frozen=True, slots=True)
class Rest:
    """What a strand is known to have had left when `done` counts were made."""

    done: int
    length_mm: float


def shares_mm(plan: Plan, cuts: tuple[CordCut, ...]) -> dict[int, float]:
    """Return the length that each strand hangs with: its share of its cut piece."""
    return Cutting(plan).shares_mm(lengths_of(cuts))


class CordLeft:
    """Answers how much cord is left; what does not change with the count is worked out once."""

    def __init__(
        self,
        plan: Plan,
        cuts: tuple[CordCut, ...] | None = None,
        *,
        shares: Mapping[int, float] | None = None,
        rests: Mapping[int, Rest] | None = None,
        spread: Spread | None = None,
        slopes: ManySlopes | None = None,
    ) -> None:
        """Take up a plan.

        Args:
            plan: The plan, in the hands that are thought likely.
            cuts: How its pieces were cut; as the plan says if left out.
            shares: What each strand hung with at first, in mm, in the place of `cuts`.
            rests: What was measured last of some strands.
            spread: The doubt that the figures of hands and cord leave; what is thought of any
                maker in the place of what the plan's hands have not measured, if left out.
            slopes: The plan's slopes, where they are known already.
        """
        self._plan = plan
        if shares is None:
            shares = shares_mm(plan, cut_list(plan) if cuts is None else cuts)
        self._slopes = slopes or plan.slopes
        self._spread = spread or told(plan.project, plan.hands, self._slopes.figures).doubt.spread
        hung = {strand: Rest(0, share) for strand, share in shares.items()}
        self._rests = hung | {s: rest for s, rest in (rests or {}).items() if s in hung}
        self._ends = {strand: self._range(strand, plan.total) for strand in self._rests}
        self._runs_out = {strand: self._runs_out_at(strand) for strand in self._rests}
        self._short = {s for s, (end, off) in self._ends.items() if end + off < self._tail(s)}
        self._worst_first = sorted(self._rests, key=self._over)
        self._own = [s for s in self._rests if plan.strands[s].origin in ("wrap", "clasp")]

    def at(self, done: int, most: int | None = None) -> tuple[StrandLeft, ...]:
        """Return every strand after `done` counts, those to come too, the worst one first.

        A wrap or a clasp that is tied needs no more cord: such strands come last. With `most`
        given, only so many of the worst, and those that are short.
        """
        tied = {s for s in self._own if done > (self._plan.ledgers[s].at or (done,))[-1]}
        order = sorted(self._worst_first, key=tied.__contains__)
        if most is not None:
            order = [*order[:most], *(s for s in order[most:] if s in self._short)]
        return tuple(self._strand(strand, done) for strand in order)

    def _over(self, strand: int) -> float:
        """Return what is left beyond the tail at the end, at the least."""
        end, off = self._ends[strand]
        return max(0.0, end - off) - self._tail(strand)

    def _runs_out_at(self, strand: int) -> int | None:
        rest, ledger = self._rests[strand], self._plan.ledgers[strand]
        reach = rest.length_mm + ledger.used_after(rest.done) - self._tail(strand)
        over = bisect_left(ledger.used_mm, reach + 1e-6)
        return ledger.at[over] if over < len(ledger.at) else None

    def _tail(self, strand: int) -> float:
        return self._plan.tail_mm[strand]

    def _range(self, strand: int, done: int) -> tuple[float, float]:
        """Return what is likely left after `done` counts, and how far that may be off, in mm."""
        rest, plan = self._rests[strand], self._plan
        used = plan.used_mm(strand, done) - plan.used_mm(strand, rest.done)
        doubt = self._spread(self._slopes.of_use(strand, done, rest.done))
        off = hypot(doubt, MODEL_SD * used, READING_SD_MM if rest.done else 0.0)
        return rest.length_mm - used, Z80 * off

    def _strand(self, strand: int, done: int) -> StrandLeft:
        now, now_off = self._range(strand, done)
        end, end_off = self._ends[strand]
        return StrandLeft(
            strand,
            max(0.0, now - now_off),
            max(0.0, now + now_off),
            max(0.0, end - end_off),
            max(0.0, end + end_off),
            strand in self._short,
            self._runs_out[strand],
            now,
            end,
        )
