"""Estimates for a piece: its plan in the cords and hands that its measures show."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from math import hypot
from typing import Final

from coach.pace.cord_learning import (
    Figure,
    Learnt,
    Observation,
    clamped,
    is_impossible,
    learn,
    with_drift,
)
from coach.piece.beliefs import Beliefs, hands_of
from coach.piece.changes.effective_plan import plan_after
from coach.piece.events import Happening, Joined, Measured
from coach.plan.cord.cord_left import CordLeft, KnownCordLeft, shares_mm
from coach.plan.cord.cut_list import cut_list
from coach.plan.doubt.doubt import (
    MODEL_SD,
    READING_SD_MM,
    doubt_after_measures,
    figures_of,
    in_figures,
    prior_sd,
)
from coach.plan.doubt.joint_ranges import Z80
from coach.plan.doubt.sensitivity import ManySlopes, slopes_of
from coach.plan.plan_model import Plan, remeasured

_TURNS: Final = 3  # slopes are so nearly straight that the figures stand still after two
_CUT_SD_MM: Final = 5.0  # how exactly a piece is cut and folded: rough
_TOLD: Final = 0.98  # of its sd: a figure that is no surer was not spoken about
OTHER_LIE_SD: Final = 0.05
"""How far a length may differ from one taken as the plan means it, as a share: rough, no source."""


@dataclass(frozen=True, slots=True)
class Expected:
    """An estimated length in mm: likely, and a range that holds four times in five."""

    low_mm: float
    likely_mm: float
    high_mm: float


@dataclass(frozen=True, slots=True)
class Known:
    """The plan in the likely hands, and all that was learnt.

    `rests` are the strands' last known rests, including their length at the start; `grown` is the
    last length of the work measured in the state that the plan means; `believed` is the prior of
    every figure.
    """

    plan: Plan
    slopes: ManySlopes
    learnt: Learnt
    rests: Mapping[int, KnownCordLeft]
    grown: KnownCordLeft
    believed: Beliefs
    seen_at: int = 0  # the count at which something was measured last
    wild: bool = False  # what was measured cannot have been so

    @property
    def ahead(self) -> Learnt:
        """The figures averaged over the work to come, in which hands may drift on."""
        share = 1 - self.seen_at / max(1, self.plan.total)
        return with_drift(self.learnt, share / 3) if self.seen_at else self.learnt

    def sight_of(self, seen: Measured) -> Observation:
        """Return what one more measurement would say about cords and hands."""
        books = _Sights(self.plan, self.slopes, {})
        books.rests, books.grown, books.seen_at = dict(self.rests), self.grown, self.seen_at
        return books.sight(seen)

    def is_told(self, figure: Figure) -> bool:
        """Return whether measurements, here or before, have said anything about a figure."""
        belief, plain = self.learnt.belief(figure), prior_sd(self.plan.project, figure)
        return belief.sd < _TOLD * plain or belief.sd < _TOLD * self.believed[figure].sd

    def cord_left(self) -> CordLeft:
        """Return the calculator of cord left."""
        return CordLeft(
            self.plan,
            shares={strand: rest.length_mm for strand, rest in self.rests.items()},
            rests=self.rests,
            spread=self.ahead.spread,
            slopes=self.slopes,
        )

    def length(self, done: int | None = None) -> Expected:
        """Return the length after a count, or of the finished work."""
        at = self.plan.total if done is None else done
        since = min(self.grown.done, self.plan.total)
        more = self.plan.height_mm[at] - self.plan.height_mm[since]
        doubt = self.learnt.spread(self.slopes.of_length(at, since))
        off = Z80 * hypot(doubt, MODEL_SD * more, READING_SD_MM if since else 0.0)
        likely = self.grown.length_mm + more
        return Expected(max(0.0, likely - off), likely, likely + off)

    def length_of(self, plan: Plan) -> float:
        """Return the finished length to expect if the piece went on by another plan, in mm."""
        other = remeasured(plan, self.plan.hands)
        since = min(self.grown.done, other.total)
        return self.grown.length_mm + other.length_mm - other.height_mm[since]


def in_hands(plan: Plan, beliefs: Beliefs) -> Plan:
    """Return a plan in the likely hands by these beliefs, with their uncertainty."""
    if not beliefs:
        return plan
    return remeasured(plan, in_figures(plan.project, hands_of(beliefs), _figures(plan)))


def _figures(plan: Plan) -> tuple[Figure, ...]:
    """Return the figures of a plan: for each cord, and for each knot in the cords that tie it."""
    knots: dict[str, set[str]] = {cord: set() for cord in plan.project.cords}
    for count in plan.counts:
        if count.knot:
            for strand in count.knotters:
                knots[plan.strands[strand].cord].add(count.knot)
    return figures_of(plan.project.cords, knots)


def estimates_of(
    base: Plan,
    happenings: Sequence[Happening],
    beliefs: Beliefs | None = None,
    followed: Plan | None = None,
) -> Known:
    """Return what is known of a piece.

    Args:
        base: The plan that it began with, in the likely hands by the prior.
        happenings: The happenings so far.
        beliefs: The prior of cords and knots.
        followed: The plan after all happenings, if it is known already.

    Raises:
        CannotFollow: A happening is impossible on this plan.
    """
    plan = plan_after(base, happenings) if followed is None else followed
    slopes = slopes_of(plan)  # first: what is measured by knot serves for all else
    shares = _shares(base, plan)
    hands = hands_of(beliefs) if beliefs else plan.hands
    believed = doubt_after_measures(plan.project, hands, slopes.figures)
    measured = any(isinstance(happening, Measured) for happening in happenings)
    learnt, wild = believed, False
    for _ in range(_TURNS if measured else 0):
        at = {figure: plan.hands.figure(figure) for figure in believed.unknowns}
        sights = _Sights(plan, slopes, shares).of(happenings)
        learnt = learn(believed, at, sights)
        wild, learnt = is_impossible(learnt), clamped(learnt)
        hands = plan.hands.with_figures(dict(zip(learnt.unknowns, learnt.means, strict=True)))
        plan = remeasured(plan, hands)
        slopes = slopes_of(plan)
    books = _Sights(plan, slopes, shares)
    books.of(happenings)
    rests, grown, at_done = books.rests, books.grown, books.seen_at
    return Known(plan, slopes, learnt, rests, grown, believed.beliefs, at_done, wild)


def _shares(base: Plan, plan: Plan) -> dict[int, float]:
    """Return the length each strand hung with; pieces new since the first plan are cut for this."""
    cut = shares_mm(base, cut_list(base))
    by_name = {base.strands[strand].id: share for strand, share in cut.items()}
    later = cut if plan is base else shares_mm(plan, cut_list(plan))
    return {s: by_name.get(plan.strands[s].id, share) for s, share in later.items()}


class _Sights:
    """Turns measurements into sights, each compared with the one before it."""

    def __init__(self, plan: Plan, slopes: ManySlopes, shares: Mapping[int, float]) -> None:
        self._plan = plan
        self._slopes = slopes
        self._strands = {strand.id: number for number, strand in enumerate(plan.strands)}
        self._lie = plan.project.size.state if plan.project.size else "relaxed"
        self.rests = {strand: KnownCordLeft(0, share) for strand, share in shares.items()}
        self.grown = KnownCordLeft(0, 0.0)
        self.seen_at = 0

    def of(self, happenings: Sequence[Happening]) -> list[Observation]:
        """Return the sights, and keep the last rests and length."""
        sights = []
        for happening in _settled(happenings):
            if happening.at_done > self._plan.total:
                continue
            if isinstance(happening, Joined) and happening.strand in self._strands:
                length = happening.length_mm - happening.overlap_mm
                self.rests[self._strands[happening.strand]] = KnownCordLeft(
                    happening.at_done, length
                )
            elif isinstance(happening, Measured) and happening.strand in ("", *self._strands):
                sights.append(self.sight(happening))
        return sights

    def sight(self, seen: Measured) -> Observation:
        """Return what a measurement says, and keep it as the last one of its kind."""
        strand = self._strands[seen.strand] if seen.strand else None
        sight = self._length(seen) if strand is None else self._rest(seen, strand)
        since = max(0, seen.at_done - self.seen_at) / max(1, self._plan.total)
        first, self.seen_at = not self.seen_at, max(self.seen_at, seen.at_done)
        return replace(sight, doubted=seen.doubt > 0, since=0.0 if first else since)

    def _rest(self, seen: Measured, strand: int) -> Observation:
        """Return what a rest says about the cord used since the one before."""
        before, done = self.rests[strand], seen.at_done
        expected = self._plan.used_mm(strand, done) - self._plan.used_mm(strand, before.done)
        # A doubted rest is gone on from where that is the careful side: a warning costs little.
        if not seen.doubt or seen.length_mm < before.length_mm - expected:
            self.rests[strand] = KnownCordLeft(done, seen.length_mm)
        error = hypot(READING_SD_MM, READING_SD_MM if before.done else _CUT_SD_MM)
        return Observation(
            self._slopes.of_use(strand, done, before.done),
            expected,
            before.length_mm - seen.length_mm,
            hypot(error, MODEL_SD * expected),
        )

    def _length(self, seen: Measured) -> Observation:
        """Return what a length says; one measured in another state says less."""
        alike = seen.lying in ("", self._lie)
        before = self.grown if alike else KnownCordLeft(0, 0.0)
        height, done = self._plan.height_mm, seen.at_done
        expected = height[done] - height[before.done]
        if alike and not seen.doubt:
            self.grown = KnownCordLeft(done, seen.length_mm)
        share = MODEL_SD if alike else OTHER_LIE_SD
        error = hypot(READING_SD_MM, READING_SD_MM if before.done else 0.0)
        return Observation(
            self._slopes.of_length(done, before.done),
            expected,
            seen.length_mm - before.length_mm,
            hypot(error, share * expected),
        )


def _settled(happenings: Sequence[Happening]) -> list[Happening]:
    """Leave out measurements that were repeated at the same count."""
    last = {(h.strand, h.at_done): n for n, h in enumerate(happenings) if isinstance(h, Measured)}
    return [
        h for n, h in enumerate(happenings)
        if not isinstance(h, Measured) or last[h.strand, h.at_done] == n
    ]  # fmt: skip
