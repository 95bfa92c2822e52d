"""Cords folded off the middle, and how far their ends hang."""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from typing import Final

from coach.plan.cord.cord_left import shares_mm
from coach.plan.cord.cut_list import cut_list
from coach.plan.pieces import pieces_of
from coach.plan.plan_model import Plan
from coach.plan.wording.cord_order_words import spans
from coach.project.model import Fold
from coach.quantities import show_cut
from coach.text import join_words, plural

_METRE_MM: Final = 1000.0
_INCH_MM: Final = 25.4


def hung_pieces(plan: Plan, *folds: Fold) -> dict[str, int]:
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
    fitted = hung_pieces(plan, "fit")
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
    return join_words([f"{length} for {strands} {spans(sorted(at))}" for length, at in ends])


def _rounded(length_mm: float, unit: str) -> str:
    """Return a length rounded as it is measured off: to 1 cm, from 1 m on to 5 cm, or to 1 in."""
    step = _INCH_MM if unit == "in" else 10.0 if length_mm < _METRE_MM else 50.0
    return show_cut(round(length_mm / step) * step, unit)
