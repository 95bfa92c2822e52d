"""The cut list: what to cut of each cord so that no strand runs short."""

from collections import defaultdict
from dataclasses import dataclass, replace
from math import ceil
from typing import Final, TypeAlias

from coach.plan.compile.compiler import compile_project
from coach.plan.measure.measure import contact_mm, hung_firsts
from coach.plan.measure.mounting import mountings, onto_strand_mm
from coach.plan.plan_model import Origin, Plan
from coach.plan.resize.varying import by_repeats, varied, with_more
from coach.project import model

ROUND_TO_MM: Final = {"cm": 5.0, "in": 6.35}
"""What cut lengths are rounded up to: 5 mm, or a quarter of an inch."""
Kind: TypeAlias = tuple[str, Origin, str]
"""What pieces share that are cut alike: their cord, how they come in, what is made of them."""
_NEAR = 1e-6
_WORTH_TELLING = 0.8  # pieces that need less than this share of the cut are named


@dataclass(frozen=True, slots=True)
class Cut:
    """Some pieces of one cord cut to one length, and what they are for."""

    cord: str
    origin: Origin
    pieces: int
    cut_mm: float
    longest: int  # the strand that decides the length
    shorter: tuple[tuple[int, float], ...] = ()  # (piece, length) of those that need far less
    apart: str = ""  # what is made apart of them

    @property
    def kind(self) -> Kind:
        """What its pieces share."""
        return self.cord, self.origin, self.apart

    @property
    def total_mm(self) -> float:
        """Cord that these pieces take together."""
        return self.pieces * self.cut_mm


@dataclass(frozen=True, slots=True)
class CordCut:
    """All that is cut of one cord; `per_repeat_mm` is what one repeat more adds to a piece."""

    cord: str
    cuts: tuple[Cut, ...]
    per_repeat_mm: float = 0.0

    @property
    def pieces(self) -> int:
        """How many pieces there are."""
        return sum(cut.pieces for cut in self.cuts)

    @property
    def cut_mm(self) -> float:
        """The length of the longest piece."""
        return max(cut.cut_mm for cut in self.cuts)

    @property
    def total_mm(self) -> float:
        """Cord that all pieces take together."""
        return sum(cut.total_mm for cut in self.cuts)


@dataclass(frozen=True, slots=True)
class Piece:
    """One cut piece: its strands, and what it needs before the margin, in mm."""

    cord: str
    number: int
    origin: Origin
    strands: tuple[int, ...]
    need_mm: float
    around_mm: float  # of it, the way round what it hangs on
    fitted: bool = False  # folded off the middle, so that each strand gets what it needs
    apart: str = ""  # what is made apart of it

    @property
    def kind(self) -> Kind:
        """What it shares with all pieces that are cut alike."""
        return self.cord, self.origin, self.apart


def pieces_of(plan: Plan) -> tuple[Piece, ...]:
    """Return every piece with what it needs: its strands, their tails, and its way of hanging."""
    found: dict[tuple[str, int], list[int]] = defaultdict(list)
    for number, strand in enumerate(plan.strands):
        found[strand.cord, strand.piece].append(number)
    around, folds = _around(plan), _folds(plan)
    return tuple(
        _piece(plan, tuple(strands), around.get(strands[0], 0.0), folds.get(strands[0], "middle"))
        for strands in found.values()
    )


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


def _piece(plan: Plan, strands: tuple[int, ...], around_mm: float, fold: model.Fold) -> Piece:
    """Return one piece; folded in the middle, its longer strand decides for both."""
    first = plan.strands[strands[0]]
    cord = plan.project.cords[first.cord]
    needs = [plan.ledgers[s].total_mm + plan.tail_mm[s] for s in strands]
    need = sum(needs) if fold == "fit" or first.single else 2 * max(needs)
    lead = cord.lead_mm if first.single and first.origin == "hung" else 0.0
    if first.single and len(strands) > 1:  # its free end came down: more where that needs more
        lead = max(0.0, lead - needs[1])
    need += around_mm + lead
    fitted = fold == "fit"
    return Piece(
        first.cord, first.piece, first.origin, strands, need, around_mm, fitted, first.apart
    )  # fmt: skip


def _around(plan: Plan) -> dict[int, float]:
    """Return the cord that hanging takes, by the first strand of each folded piece."""
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


def rounded_up(length_mm: float, unit: str = "cm") -> float:
    """Return a length rounded up to the next 5 mm, or quarter of an inch for `in`."""
    step = ROUND_TO_MM[unit]
    return ceil(length_mm / step - _NEAR) * step


def cut_list(plan: Plan, unit: str = "cm", copies: int = 1) -> tuple[CordCut, ...]:
    """Return what to cut, cords in the file's order; pieces of one kind are cut to one length.

    `unit` is cm or in, what lengths are rounded up in; `copies` is for so many of the piece.
    """
    kinds: dict[Kind, list[Piece]] = defaultdict(list)
    for piece in pieces_of(plan):
        kinds[piece.kind].append(piece)
    cuts: dict[str, list[Cut]] = defaultdict(list)
    for (cord, origin, apart), pieces in kinds.items():
        longest = max(pieces, key=lambda piece: piece.need_mm)
        needs = {p.number: rounded_up(p.need_mm * (1 + plan.project.margin), unit) for p in pieces}
        length = needs[longest.number]
        decides = max(longest.strands, key=lambda s: plan.ledgers[s].total_mm + plan.tail_mm[s])
        shorter = tuple((n, need) for n, need in needs.items() if need < _WORTH_TELLING * length)
        number = len(pieces) * copies
        cuts[cord].append(Cut(cord, origin, number, length, decides, shorter, apart))
    return tuple(CordCut(cord, tuple(cuts[cord])) for cord in plan.project.cords if cord in cuts)


def with_repeats(cuts: tuple[CordCut, ...], plan: Plan) -> tuple[CordCut, ...]:
    """Return a cut list that also says what one repeat more of the varied part adds to a piece."""
    part = varied(plan.project)
    if not part:
        return cuts
    step = by_repeats(plan.project, part)
    longer = compile_project(with_more(plan.project, part, step)).plan
    if longer is None:
        return cuts
    needs = {(p.cord, p.number): p.need_mm for p in pieces_of(plan)}
    grown: dict[str, float] = defaultdict(float)
    for piece in pieces_of(longer):
        before = needs.get((piece.cord, piece.number))
        if before is not None:
            grown[piece.cord] = max(grown[piece.cord], (piece.need_mm - before) / step)
    share = 1 + plan.project.margin
    return tuple(replace(cut, per_repeat_mm=grown[cut.cord] * share) for cut in cuts)
