"""The list for cutting, labelling and hanging the pieces of cord before the first knot."""

from collections.abc import Collection
from dataclasses import dataclass
from typing import Final

from coach.plan.cord.cut_list import cut_list, lengths_of
from coach.plan.doubt.cut_lengths import Cutting
from coach.plan.pieces import Piece, pieces_of
from coach.plan.plan_model import Plan
from coach.plan.wording.strand_names import span_words

CUT: Final = "cut"
LABELLED: Final = "labelled"
HUNG: Final = "hung"
MARKS: Final = (CUT, LABELLED, HUNG)

Tick = tuple[str, str]
"""A piece of cord by its label, and one of `MARKS` that is done to it."""


@dataclass(frozen=True, slots=True)
class PieceToReady:
    """One piece of cord to prepare.

    Attributes:
        label: The text of its label.
        cord: The cord that it is cut from.
        strand: One of its strands.
        length_mm: The length to cut.
        marks: What is to be done to it before the first knot.
        hangs: Where its strands hang at the start, or when else it is needed.
        ends_mm: How far each strand hangs from the fold; empty if it is folded in the middle.
    """

    label: str
    cord: str
    strand: int
    length_mm: float
    marks: tuple[str, ...]
    hangs: str
    ends_mm: tuple[float, ...] = ()


def pieces_to_ready(plan: Plan, unit: str = "cm") -> tuple[PieceToReady, ...]:
    """Return every piece in the order of the cut list.

    A piece that joins later is not hung before the work.

    Args:
        plan: The plan.
        unit: "cm" or "in": the unit in which lengths are rounded up.
    """
    lengths = lengths_of(cut_list(plan, unit))
    cords, shares = list(plan.project.cords), Cutting(plan).shares_mm(lengths)
    found = []
    for piece in pieces_of(plan):
        hung = piece.origin == "hung"
        start = _start_of(plan, piece)
        places = sorted(start.index(s) + 1 for s in piece.strands if s in start)
        found.append(
            PieceToReady(
                f"{piece.cord}.{piece.number}",
                piece.cord,
                piece.strands[0],
                lengths[piece.label],
                MARKS if hung else MARKS[:2],
                _where(piece, places) if hung and places else "joins later",
                tuple(shares[s] for s in piece.strands) if hung and piece.fitted else (),
            )
        )
    return tuple(sorted(found, key=lambda ready: cords.index(ready.cord)))


def _start_of(plan: Plan, piece: Piece) -> tuple[int, ...]:
    """Return the strands from the left at the start of the part that a piece is for."""
    starts = [own.section.order for own in plan.by_section] or [plan.start]
    return next((order for order in starts if piece.strands[0] in order), ())


def _where(piece: Piece, places: list[int]) -> str:
    """Return where a piece hangs, and in which part made apart."""
    told = span_words(places)
    return f"{told} of the {piece.apart}" if piece.apart else told


def ticks_in_order(ready: tuple[PieceToReady, ...]) -> tuple[Tick, ...]:
    """Return all ticks in working order: each piece cut and labelled, then all hung."""
    made = [(r.label, mark) for r in ready for mark in r.marks if mark != HUNG]
    return (*made, *((r.label, HUNG) for r in ready if HUNG in r.marks))


def next_open(order: tuple[Tick, ...], ticked: Collection[Tick], after: Tick | None) -> Tick | None:
    """Return the next tick that is still open, wrapping round.

    Args:
        order: All ticks in working order.
        ticked: Those that are set.
        after: The one to look on from; None looks from the first.

    Returns:
        The tick, or None where all are set.
    """
    start = order.index(after) + 1 if after in order else 0
    return next((tick for tick in (*order[start:], *order) if tick not in ticked), None)


def rest_of(
    ready: tuple[PieceToReady, ...], ticked: Collection[Tick], at: Tick
) -> tuple[Tick, ...]:
    """Return the open ticks that are like one, which a press may set together.

    Args:
        ready: The pieces of cord, and what is to be done to each.
        ticked: The ticks that are set.
        at: The marked tick: `reed.1`, cut.

    Returns:
        The same mark for all pieces of that cord that do not have it yet.
    """
    cord = next(r.cord for r in ready if r.label == at[0])
    every = [(r.label, at[1]) for r in ready if r.cord == cord and at[1] in r.marks]
    return tuple(tick for tick in every if tick not in ticked)
