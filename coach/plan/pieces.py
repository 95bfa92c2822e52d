"""The cut pieces of a plan: their strands, their folds, and the cord they need."""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TypeAlias

from coach.plan.measure.measure import contact_mm, hung_firsts
from coach.plan.measure.strand_ends import mountings, onto_strand_mm
from coach.plan.plan_model import Origin, Plan
from coach.project import model

Label: TypeAlias = tuple[str, int]
"""A piece by its cord and its number."""


@dataclass(frozen=True, slots=True)
class Piece:
    """One cut piece: its strands, and what it needs without any margin, in mm.

    `around_mm` is the way round what it hangs on, `lead_mm` the free end above the first knot of
    a piece that is not folded, and `needs_mm` what each strand uses, with its tail.
    """

    cord: str
    number: int
    origin: Origin
    strands: tuple[int, ...]
    needs_mm: tuple[float, ...]
    around_mm: float
    lead_mm: float = 0.0
    fitted: bool = False  # folded off the middle, so that each strand gets what it needs
    apart: str = ""  # what is made apart of it

    @property
    def label(self) -> Label:
        """The values that tell it from all others."""
        return self.cord, self.number

    @property
    def need_mm(self) -> float:
        """The length that is just enough."""
        return self.length_mm(self.needs_mm)

    def length_mm(self, ends_mm: Sequence[float]) -> float:
        """Return the cut length that gives each strand a length below what it hangs on.

        Folded in the middle, the longer strand decides for both.
        """
        alike = len(ends_mm) > 1 and not self.fitted
        ends = len(ends_mm) * max(ends_mm) if alike else sum(ends_mm)
        return ends + self.around_mm + self.lead_mm

    def shares_mm(self, cut_mm: float, weights: Sequence[float]) -> tuple[float, ...]:
        """Return what each strand hangs with, given the length of the piece.

        Folded to fit, a surplus is divided by weight; otherwise the halves are equal.

        Args:
            cut_mm: The length of the piece.
            weights: The proportions in which a surplus goes to its strands.
        """
        hanging = cut_mm - self.around_mm - self.lead_mm
        if not self.fitted:
            return tuple(hanging / len(self.strands) for _ in self.strands)
        spare, whole = hanging - sum(self.needs_mm), sum(weights)
        parts = [w / whole if whole else 1 / len(weights) for w in weights]
        return tuple(n + spare * p for n, p in zip(self.needs_mm, parts, strict=True))


def pieces_of(plan: Plan) -> tuple[Piece, ...]:
    """Return every piece with what it needs: its strands, their tails, and its way of hanging."""
    found: dict[Label, list[int]] = defaultdict(list)
    for number, strand in enumerate(plan.strands):
        found[strand.cord, strand.piece].append(number)
    around, folds = around_mm(plan), _folds(plan)
    return tuple(
        _piece(plan, tuple(strands), around.get(strands[0], 0.0), folds.get(strands[0], "middle"))
        for strands in found.values()
    )


def _piece(plan: Plan, strands: tuple[int, ...], around: float, fold: model.Fold) -> Piece:
    first = plan.strands[strands[0]]
    needs = tuple(plan.ledgers[s].total_mm + plan.tail_mm[s] for s in strands)
    hung_single = first.single and first.origin == "hung"
    lead = plan.project.cords[first.cord].lead_mm if hung_single else 0.0
    fitted = fold == "fit" and len(strands) > 1
    if first.single and len(strands) > 1:  # its free end came down, and is as long as it needs
        needs, lead, fitted = (needs[0], max(lead, needs[1])), 0.0, True
    return Piece(
        first.cord, first.piece, first.origin, strands, needs, around, lead, fitted, first.apart
    )  # fmt: skip


def _folds(plan: Plan) -> dict[int, model.Fold]:
    """Return how each piece is folded, by its strand a: as its cord is, or as it was added."""
    folds = {
        number: plan.project.cords[strand.cord].fold
        for number, strand in enumerate(plan.strands)
        if strand.origin in ("hung", "added")
    }
    for step in plan.steps:
        if isinstance(step.source, model.Add) and step.source.fold:
            folds.update(dict.fromkeys(step.new_strands, step.source.fold))
    return folds


def around_mm(plan: Plan) -> Mapping[int, float]:
    """Return the cord that mounting takes, by the first strand of each folded piece."""
    contact = contact_mm(plan, plan.hands)
    around: dict[int, float] = {}
    for board in [own.plan for own in plan.by_section] or [plan]:
        around |= _around_start(board, contact)
    return around | _around_added(plan, contact)


def _around_start(plan: Plan, contact_mm: list[float]) -> dict[int, float]:
    """Return what hanging takes on one board; pieces pinned at their middles are not folded."""
    start = plan.project.start
    firsts = hung_firsts(plan)
    hung = mountings(start, [contact_mm[first] for first in firsts])
    return {
        first: mounting.piece_use_mm[0]
        for first, mounting in zip(firsts, hung, strict=True)
        if not plan.strands[first].single and not start.from_middle
    }


def _around_added(plan: Plan, contact_mm: list[float]) -> dict[int, float]:
    around = {}
    for step in plan.steps:
        if isinstance(step.source, model.Add):
            held = plan.counts[step.first].fillers
            bar = contact_mm[held[0]] if held else None
            for strand in step.new_strands:
                if plan.strands[strand].end == "a" and not plan.strands[strand].single:
                    around[strand] = onto_strand_mm(step.source.by, bar, contact_mm[strand])
    return around
