"""What a cut list promises: the chance to reach, the critical strand, what would save cord."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Final

from coach.plan.compile.compiler import compile_project
from coach.plan.cord.cut_list import SURE, CordCut, cut_list, lengths_of
from coach.plan.doubt.cut_lengths import Cutting
from coach.plan.pieces import Piece
from coach.plan.plan_model import Plan

_WORTH: Final = 0.1  # of a cord: what saves less is not worth another way of folding


@dataclass(frozen=True, slots=True)
class Outlook:
    """The chance that every strand of a piece reaches its tail, cut as the list says.

    `decides` is the strand likeliest to fall short, `falls_short` the chance that it does. `extra`
    is the least and the greatest surplus over the longest likely need in a group, as a share of
    it.
    """

    reach: float
    decides: int
    falls_short: float
    extra: tuple[float, float]


@dataclass(frozen=True, slots=True)
class FoldSaving:
    """Cord in mm that `fold: fit` would save of one cord, and what the list takes of it."""

    cord: str
    saved_mm: float
    whole_mm: float


def outlook(plan: Plan, cuts: tuple[CordCut, ...]) -> Outlook:
    """Return what a cut list of this plan promises."""
    cutting, lengths = Cutting(plan), lengths_of(cuts)
    given = cutting.given_mm(lengths)
    short = {strand: cutting.risk.falls_short(strand, mm) for strand, mm in given.items()}
    decides = max(short, key=short.__getitem__)
    longest = [max(group, key=lambda piece: piece.need_mm) for group in cutting.groups]
    extra = [lengths[piece.label] / piece.need_mm - 1 for piece in longest if piece.need_mm]
    spares = (min(extra), max(extra)) if extra else (0.0, 0.0)
    return Outlook(cutting.risk.reach(given), decides, short[decides], spares)


def fold_savings(
    plan: Plan, cuts: tuple[CordCut, ...], unit: str = "cm", sure: float = SURE
) -> Iterator[FoldSaving]:
    """Yield the cords of which folding in the middle wastes over a tenth, for one copy.

    Args:
        plan: The plan.
        cuts: Its cut list.
        unit: "cm" or "in": the unit in which lengths are rounded up.
        sure: The chance that every strand is to reach.
    """
    if plan.project.start.before_fold:  # what is worked in the middles is where the fold has to be
        return
    for name in dict.fromkeys(p.cord for p in Cutting(plan).pieces if _wastes(p)):
        cord = plan.project.cords[name]
        cords = {**plan.project.cords, name: replace(cord, fold="fit")}
        other = compile_project(replace(plan.project, cords=cords), plan.hands).plan
        if other is None:
            continue
        before, after = (
            sum(length for (cut, _), length in lengths.items() if cut == name)
            for lengths in (lengths_of(cuts), lengths_of(cut_list(other, unit, sure=sure)))
        )
        if before - after > _WORTH * before:
            yield FoldSaving(name, before - after, before)


def _wastes(piece: Piece) -> bool:
    """Return whether a piece folded in the middle has much more than both strands need."""
    if piece.origin != "hung" or piece.fitted or len(piece.needs_mm) == 1:
        return False
    return piece.need_mm - sum(piece.needs_mm) - piece.around_mm > _WORTH * piece.need_mm
