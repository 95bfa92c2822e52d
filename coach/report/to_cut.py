"""What is cut of each cord, what that comes to, and which strand decides a length."""

from dataclasses import dataclass
from typing import Literal

from coach.plan.cord.cut_list import CordCut, Cut
from coach.plan.plan_model import Plan
from coach.plan.wording.step_phrases import where
from coach.project.model import Cord


@dataclass(frozen=True, slots=True)
class Deciding:
    """The strand that needs a whole length: its label, and its place at the start if it hangs then.

    `tie` is the tie in which it takes its last cord, counted from 1, and `where` the place of that
    in the work; None where its tail alone decides.
    """

    label: str
    place: int | None
    tie: int | None
    where: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Shorter:
    """Pieces that need far less than their like, by the strands they hang as or by number."""

    length_mm: float
    named_by: Literal["strand", "piece"]
    numbers: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class PiecesToCut:
    """Pieces of one cord that are cut to one length."""

    cut: Cut
    deciding: Deciding
    shorter: tuple[Shorter, ...]


@dataclass(frozen=True, slots=True)
class CordToCut:
    """One cord: the pieces that are cut of it, what they come to, and what that weighs if known."""

    cord: Cord
    cut: CordCut
    pieces: tuple[PiecesToCut, ...]
    mass_g: float | None


def cords_to_cut(plan: Plan, cuts: tuple[CordCut, ...]) -> tuple[CordToCut, ...]:
    """Return a cut list with what is told of it, cords in the file's order."""
    cords = plan.project.cords
    return tuple(
        CordToCut(
            cords[cut.cord],
            cut,
            tuple(PiecesToCut(one, _deciding(plan, one), _shorter(plan, one)) for one in cut.cuts),
            cords[cut.cord].mass_g(cut.total_mm),
        )
        for cut in cuts
    )


def _deciding(plan: Plan, cut: Cut) -> Deciding:
    strand = plan.strands[cut.longest]
    place = plan.start.index(cut.longest) + 1 if cut.longest in plan.start else None
    taken = plan.ledgers[cut.longest].at
    if not taken:
        return Deciding(strand.id, place, None, ())
    return Deciding(strand.id, place, taken[-1] + 1, where(plan, taken[-1]))


def _shorter(plan: Plan, cut: Cut) -> tuple[Shorter, ...]:
    """Return the pieces that could be cut shorter, those that need most first."""
    by_length: dict[float, list[int]] = {}
    for number, length_mm in cut.shorter:
        by_length.setdefault(length_mm, []).append(number)
    return tuple(
        _named(plan, cut.cord, length_mm, numbers)
        for length_mm, numbers in sorted(by_length.items(), reverse=True)
    )


def _named(plan: Plan, cord: str, length_mm: float, pieces: list[int]) -> Shorter:
    """Name pieces by where their strands hang at the start; those that join later by number."""
    places = tuple(
        place
        for place, strand in enumerate(map(plan.strands.__getitem__, plan.start), start=1)
        if strand.cord == cord and strand.piece in pieces
    )
    if places:
        return Shorter(length_mm, "strand", places)
    return Shorter(length_mm, "piece", tuple(sorted(pieces)))
