"""Cord left on every strand, now and at the end, in ranges that all hold at once with 80 %."""

from bisect import bisect_left
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from math import erfc, hypot, sqrt
from typing import Final

from coach.plan.cord.cut_list import CordCut, cut_list, lengths_of
from coach.plan.doubt.cut_lengths import Cutting
from coach.plan.doubt.doubt import READING_SD_MM, STRAND_SD, doubt_after_measures
from coach.plan.doubt.joint_ranges import deviations_at_once
from coach.plan.doubt.sensitivity import ManySlopes, slopes_of
from coach.plan.plan_model import Plan
from coach.plan.tension import Slopes, Spread
from coach.project.model import Add

_SURE_MM: Final = 1e-9  # how far off a length is that nothing is used of any more
_OWN: Final = ("wrap", "clasp")  # pieces that tie round others and have no place on the board


@dataclass(frozen=True, slots=True)
class StrandLeft:
    """Cord left on one strand in mm: now and at the end, likely and as ranges.

    `now_mm` and `end_mm` are the likely figures, below zero where the strand would not reach the
    end. `tail_mm` is what must be left then, `falls_short` the chance that it will not be; `short`
    says that even the upper end of the range leaves less. `runs_out_at` is the count at which the
    likely figure is used up but for the tail, or None.
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
    tail_mm: float = 0.0
    falls_short: float = 0.0


@dataclass(frozen=True, slots=True)
class KnownCordLeft:
    """The measured length of a strand when `done` counts were made."""

    done: int
    length_mm: float


def shares_mm(plan: Plan, cuts: tuple[CordCut, ...]) -> dict[int, float]:
    """Return the length that each strand hangs with: its share of its cut piece.

    Args:
        plan: The plan, measured.
        cuts: Its cut list, lengths rounded up as they are cut.

    Returns:
        Lengths in mm by the index of the strand; two strands of a folded piece share its length.
    """
    return Cutting(plan).shares_mm(lengths_of(cuts))


class CordLeft:
    """Computes how much cord is left, and caches what does not depend on the count."""

    def __init__(
        self,
        plan: Plan,
        cuts: tuple[CordCut, ...] | None = None,
        *,
        shares: Mapping[int, float] | None = None,
        rests: Mapping[int, KnownCordLeft] | None = None,
        spread: Spread | None = None,
        slopes: ManySlopes | None = None,
    ) -> None:
        """Set up for a plan.

        Args:
            plan: The plan, in the likely hands.
            cuts: How its pieces were cut; by default as the plan says.
            shares: The length in mm that each strand hung with at first, in place of `cuts`.
            rests: The last measured length of some strands.
            spread: The uncertainty of compression and slack; by default that of any maker where the
                plan's hands were not measured.
            slopes: The plan's slopes, where they are known already.
        """
        self._plan = plan
        if shares is None:
            shares = shares_mm(plan, cut_list(plan) if cuts is None else cuts)
        self._slopes = slopes or slopes_of(plan)
        self._spread = (
            spread or doubt_after_measures(plan.project, plan.hands, self._slopes.figures).spread
        )
        hung = {strand: KnownCordLeft(0, share) for strand, share in shares.items()}
        self._rests = hung | {s: rest for s, rest in (rests or {}).items() if s in hung}
        self._wide = self._deviations()
        self._ends = {strand: self._range(strand, plan.total) for strand in self._rests}
        self._runs_out = {strand: self._runs_out_at(strand) for strand in self._rests}
        self._short = {s for s, (end, off) in self._ends.items() if end + off < self._tail(s)}
        self._worst_first = sorted(self._rests, key=self._over)

    def at(self, done: int) -> tuple[StrandLeft, ...]:
        """Return every strand after `done` counts, future ones too, those shortest of cord first.

        A wrap or a clasp that is tied needs no more cord: such strands come last.
        """
        order = sorted(self._worst_first, key=lambda strand: self._is_tied(strand, done))
        return tuple(self._strand(strand, done) for strand in order)

    def hanging(
        self, done: int, order: Sequence[int], most: int | None = None
    ) -> tuple[StrandLeft, ...]:
        """Return the strands that hang at a count: those of the next tie first, then the shortest.

        Those of the next tie are the mover of a row, then the knotters, then the fillers. A clasp
        hangs from its first knot to its last; strands not hung yet, or laid aside, are left out.

        Args:
            done: How many counts have been made.
            order: The strands from the left as they hang then.
            most: How many to return at most; None for all of them.
        """
        hand = self._at_hand(done)
        tying = {strand for part in hand for strand in part if self._is_tying(strand, done)}
        hanging = tying.union(order)
        next_tie = {strand for part in hand for strand in part}
        first = [strand for strand in self._worst_first if strand in hanging & next_tie]
        first.sort(key=lambda strand: tuple(strand not in part for part in hand))
        others = [strand for strand in self._worst_first if strand in hanging - next_tie]
        return tuple(self._strand(strand, done) for strand in [*first, *others][:most])

    def short(self, done: int, order: Sequence[int]) -> tuple[StrandLeft, ...]:
        """Return the strands that will not reach: those that hang, then those to come.

        Strands laid aside are left out.

        Args:
            done: How many counts have been made.
            order: The strands from the left as they hang then.
        """
        if not self._short:
            return ()
        hung = [left for left in self.hanging(done, order) if left.short]
        known = {left.strand for left in hung}
        later = [s for s in self._worst_first if s in self._short and self._is_to_come(s, done)]
        return (*hung, *(self._strand(s, done) for s in later if s not in known))

    def _at_hand(self, done: int) -> tuple[frozenset[int], ...]:
        """Return the mover, the knotters and the fillers of the count about to be made."""
        step = self._plan.step_at(done)
        if step is None:
            return ()
        count, mover = self._plan.counts[done], () if step.mover is None else (step.mover,)
        return frozenset(mover), frozenset(count.knotters), frozenset(count.fillers)

    def _is_tying(self, strand: int, done: int) -> bool:
        """Return whether this is a wrap or a clasp that is begun."""
        return self._plan.strands[strand].origin in _OWN and self._plan.used_mm(strand, done) > 0

    def _is_tied(self, strand: int, done: int) -> bool:
        """Return whether a wrap or a clasp is finished."""
        if self._plan.strands[strand].origin not in _OWN:
            return False
        return done > (self._plan.ledgers[strand].at or (done,))[-1]

    def _is_to_come(self, strand: int, done: int) -> bool:
        """Return whether a piece is hung later, or a wrap or a clasp is not finished."""
        if self._plan.strands[strand].origin in _OWN:
            return not self._is_tied(strand, done)
        return done < self._hung_at.get(strand, 0)

    @cached_property
    def _hung_at(self) -> dict[int, int]:
        """The count after which each strand hangs that is added on the way."""
        added = (step for step in self._plan.steps if isinstance(step.source, Add))
        return {strand: step.end for step in added for strand in step.new_strands}

    def _over(self, strand: int) -> float:
        """Return what is left beyond the tail at the end, by the lower end of the range."""
        end, off = self._ends[strand]
        return max(0.0, end - off) - self._tail(strand)

    def _runs_out_at(self, strand: int) -> int | None:
        rest, ledger = self._rests[strand], self._plan.ledgers[strand]
        reach = rest.length_mm + ledger.used_after(rest.done) - self._tail(strand)
        over = bisect_left(ledger.used_mm, reach + 1e-6)
        return ledger.at[over] if over < len(ledger.at) else None

    def _tail(self, strand: int) -> float:
        return self._plan.tail_mm[strand]

    def _deviations(self) -> float:
        """Return the width of ranges, in standard deviations, at which all hold at once.

        Strands of one cord move so much together that the one which uses most stands for all.
        """
        most: dict[str, int] = {}
        for strand in self._rests:
            cord = self._plan.strands[strand].cord
            best = most.setdefault(cord, strand)
            if self._plan.ledgers[strand].total_mm > self._plan.ledgers[best].total_mm:
                most[cord] = strand
        ends = [self._doubt(strand, self._plan.total) for strand in most.values()]
        return deviations_at_once(
            [
                [self._shared(one, other) + own**2 * (i == j) for j, (other, _) in enumerate(ends)]
                for i, (one, own) in enumerate(ends)
            ]
        )

    def _shared(self, one: Slopes, other: Slopes) -> float:
        """Return the covariance of what two strands use, from the spread of their sum."""
        both = {figure: one.get(figure, 0.0) + slope for figure, slope in other.items()}
        whole = self._spread({**one, **both})
        return (whole**2 - self._spread(one) ** 2 - self._spread(other) ** 2) / 2

    def _doubt(self, strand: int, done: int) -> tuple[Slopes, float]:
        """Return the slopes of what a strand uses up to a count, and its own deviation in mm."""
        rest, plan = self._rests[strand], self._plan
        used = plan.used_mm(strand, done) - plan.used_mm(strand, rest.done)
        own = hypot(STRAND_SD * used, READING_SD_MM if rest.done else 0.0)
        return self._slopes.of_use(strand, done, rest.done), own

    def _range(self, strand: int, done: int) -> tuple[float, float]:
        """Return what is likely left after `done` counts, and half the range's width, in mm."""
        rest, plan = self._rests[strand], self._plan
        used = plan.used_mm(strand, done) - plan.used_mm(strand, rest.done)
        slopes, own = self._doubt(strand, done)
        return rest.length_mm - used, self._wide * hypot(self._spread(slopes), own)

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
            self._tail(strand),
            _at_most((self._tail(strand) - end) / (end_off / self._wide or _SURE_MM)),
        )


def _at_most(deviations: float) -> float:
    """Return the standard normal distribution function."""
    return erfc(-deviations / sqrt(2)) / 2
