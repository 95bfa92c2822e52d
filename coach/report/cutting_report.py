"""The cut list with whose each piece is, its totals, and the strand that sets each length."""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from coach.plan.cord.cord_left import shares_mm
from coach.plan.cord.cut_list import CordCut, Cut, cut_list
from coach.plan.pieces import pieces_of
from coach.plan.plan_model import Plan
from coach.plan.wording.cord_order_words import ranges_in_words
from coach.plan.wording.place_words import place_in_piece
from coach.project.model import Cord, Fold
from coach.quantities import show_cut
from coach.text import join_words, plural


@dataclass(frozen=True, slots=True)
class Deciding:
    """The strand that needs the whole length: its label, and its place if it hangs at the start.

    `tie` is the tie in which it takes its last cord, counted from 1, and `where` the place of that
    in the work; None where its tail alone decides.
    """

    label: str
    place: int | None
    tie: int | None
    where: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PiecesToCut:
    """Pieces of one cord that are cut to one length.

    `whose` names them where their like are cut to several lengths: `strands 1-4`.
    """

    cut: Cut
    deciding: Deciding
    whose: str


@dataclass(frozen=True, slots=True)
class CordToCut:
    """One cord: the pieces cut of it, their total, and its weight if known."""

    cord: Cord
    cut: CordCut
    pieces: tuple[PiecesToCut, ...]
    mass_g: float | None


def cords_to_cut(plan: Plan, cuts: tuple[CordCut, ...]) -> tuple[CordToCut, ...]:
    """Return the cut list with totals and deciding strands, cords in the file's order."""
    cords = plan.project.cords
    return tuple(
        CordToCut(
            cords[cut.cord],
            cut,
            tuple(_pieces(plan, cut, one) for one in cut.cuts),
            cords[cut.cord].mass_g(cut.total_mm),
        )
        for cut in cuts
    )


def _pieces(plan: Plan, cord: CordCut, cut: Cut) -> PiecesToCut:
    alike = sum((o.origin, o.apart) == (cut.origin, cut.apart) for o in cord.cuts) == 1
    return PiecesToCut(cut, _deciding(plan, cut), _whose(plan, cut, alike=alike))


def _whose(plan: Plan, cut: Cut, *, alike: bool) -> str:
    """Return whose the pieces are: a part made apart, or strands where lengths differ."""
    if not cut.apart:
        return "" if alike else strand_owners(plan, cut)
    boards = (own.plan for own in plan.by_section if own.section.name == cut.apart)
    ends = "" if alike else f"{strand_owners(next(boards), cut)} of "
    return f"{ends}the {cut.apart}"


def _deciding(plan: Plan, cut: Cut) -> Deciding:
    strand = plan.strands[cut.longest]
    place = plan.start.index(cut.longest) + 1 if cut.longest in plan.start else None
    taken = plan.ledgers[cut.longest].at
    if not taken:
        return Deciding(strand.id, place, None, ())
    return Deciding(strand.id, place, taken[-1] + 1, place_in_piece(plan, taken[-1]))


def strand_owners(plan: Plan, cut: Cut) -> str:
    """Return which strands pieces become at the start; those that join later by number."""
    places = [
        place
        for place, strand in enumerate(map(plan.strands.__getitem__, plan.start), start=1)
        if strand.cord == cut.cord and strand.piece in cut.numbers
    ]
    what, numbers = ("strand", places) if places else ("piece", sorted(cut.numbers))
    return f"{plural(what, len(numbers))} {ranges_in_words(numbers)}"


_METRE_MM: Final = 1000.0
_INCH_MM: Final = 25.4


def pieces_hung(plan: Plan, *folds: Fold) -> dict[str, int]:
    """Return how many pieces of each cord with one of these folds hang at the start."""
    found: dict[str, int] = {}
    for number in sorted(plan.start):
        strand = plan.strands[number]
        fold = plan.project.cords[strand.cord].fold
        if strand.origin == "hung" and strand.end == "a" and fold in folds:
            found[strand.cord] = found.get(strand.cord, 0) + 1
    return found


def off_middle(plan: Plan, unit: str = "cm") -> Iterator[str]:
    """Yield for each cord that is folded to fit how long its strands hang from the fold."""
    fitted = pieces_hung(plan, "fit")
    shares = shares_mm(plan, cut_list(plan, unit)) if fitted else {}
    for cord in fitted:
        folds: dict[tuple[str, str], list[tuple[int, int]]] = defaultdict(list)
        for piece in pieces_of(plan):
            if piece.cord == cord and piece.strands[0] in plan.start:
                long, short = sorted(piece.strands, key=lambda strand: -shares[strand])
                lengths = _rounded(shares[long], unit), _rounded(shares[short], unit)
                folds[lengths].append((plan.start.index(long) + 1, plan.start.index(short) + 1))
        told = [_ends(lengths, places) for lengths, places in folds.items()]
        yield f"Fold {cord} off the middle, leaving {'; '.join(told)}."


def _ends(lengths: tuple[str, str], places: Sequence[tuple[int, int]]) -> str:
    """Return how far the longer and the shorter strands of some pieces hang, and which they are."""
    strands = plural("strand", len(places))
    ends = zip(lengths, zip(*places, strict=True), strict=True)
    return join_words(
        [f"{length} for {strands} {ranges_in_words(sorted(at))}" for length, at in ends]
    )


def _rounded(length_mm: float, unit: str) -> str:
    """Return a length rounded as it is measured off: to 1 cm, from 1 m on to 5 cm, or to 1 in."""
    step = _INCH_MM if unit == "in" else 10.0 if length_mm < _METRE_MM else 50.0
    return show_cut(round(length_mm / step) * step, unit)
