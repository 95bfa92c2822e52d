"""The cut list: what to cut of each cord so that no strand runs short.

Pieces are grouped by what they need. Without a `margin:` in the file each strand gets its need and
a number of standard deviations of it: the fewest with which, once all is rounded up, the chance
that every strand reaches its tail is as asked for.
"""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

from coach.plan.compile.compiler import compile_project
from coach.plan.doubt.cut_lengths import TYPICAL, Cutting, Group, Lengths
from coach.plan.doubt.risk import Risk, risk_of
from coach.plan.pieces import Piece, pieces_of
from coach.plan.plan_model import Origin, Plan, once
from coach.plan.resize.varying import by_repeats, varied_part, with_more

SURE: Final = 0.95
"""The share of pieces in which every strand reaches its tail, where nothing else is asked for."""
_HUNG: Final = "hung"


@dataclass(frozen=True, slots=True)
class Cut:
    """Pieces of one cord cut to one length, and their use.

    `numbers` are the pieces of one copy; `pieces` counts those of all copies.
    """

    cord: str
    origin: Origin
    pieces: int
    cut_mm: float
    longest: int  # the strand that decides the length
    numbers: tuple[int, ...] = ()
    apart: str = ""  # what is made apart of them

    @property
    def total_mm(self) -> float:
        """Cord that these pieces take together."""
        return self.pieces * self.cut_mm


@dataclass(frozen=True, slots=True)
class CordCut:
    """All cuts of one cord; `per_repeat_mm` is what each extra repeat adds.

    `new` are the lengths of pieces that each extra repeat adds, such as wraps; they are included in
    `per_repeat_mm`.
    """

    cord: str
    cuts: tuple[Cut, ...]
    per_repeat_mm: float = 0.0
    new: tuple[float, ...] = ()
    new_every: int = 1

    @property
    def longer_mm(self) -> float:
        """The length that one extra repeat adds to the pieces already there."""
        return self.per_repeat_mm - sum(self.new) / self.new_every

    @property
    def pieces(self) -> int:
        """The number of pieces."""
        return sum(cut.pieces for cut in self.cuts)

    @property
    def cut_mm(self) -> float:
        """The length of the longest piece."""
        return max(cut.cut_mm for cut in self.cuts)

    @property
    def total_mm(self) -> float:
        """The length of all pieces together."""
        return sum(cut.total_mm for cut in self.cuts)

    @property
    def sorted_mm(self) -> float:
        """The cord saved by cutting like pieces to several lengths, each by its need."""
        longest: dict[tuple[Origin, str], float] = {}
        return sum(
            cut.pieces * (longest.setdefault((cut.origin, cut.apart), cut.cut_mm) - cut.cut_mm)
            for cut in self.cuts
        )


def cut_list(
    plan: Plan, unit: str = "cm", copies: int = 1, sure: float = SURE, risk: Risk | None = None
) -> tuple[CordCut, ...]:
    """Return what to cut, cords in the file's order, longest pieces first.

    Args:
        plan: The plan, in the likely hands.
        unit: "cm" or "in": the unit in which lengths are rounded up.
        copies: How many of the piece are made.
        sure: The chance that every strand of a piece reaches, where the file has no margin.
        risk: The plan's risk; by default as its own hands leave it.
    """
    if risk is not None:
        return _worked_out(Cutting(plan, unit, risk), copies, sure)
    asked = (unit, copies, sure)
    kept = _kept(plan)
    if asked not in kept:
        kept[asked] = _worked_out(Cutting(plan, unit), copies, sure)
    return kept[asked]


@once
def _kept(plan: Plan) -> dict[tuple[str, int, float], tuple[CordCut, ...]]:
    """Return the cache of a plan's cut lists, by unit, copies and chance."""
    del plan
    return {}


def _worked_out(cutting: Cutting, copies: int, sure: float) -> tuple[CordCut, ...]:
    cuts: dict[str, list[Cut]] = defaultdict(list)
    for group, length in zip(cutting.groups, cutting.lengths_mm(sure), strict=True):
        numbers = tuple(piece.number for piece in group)
        first = group[0]
        cuts[first.cord].append(
            Cut(
                first.cord,
                first.origin,
                len(group) * copies,
                length,
                _decides(group),
                numbers,
                first.apart,
            )
        )
    return tuple(CordCut(cord, tuple(cuts[cord])) for cord in cutting.cords if cord in cuts)


def lengths_of(cuts: tuple[CordCut, ...]) -> Lengths:
    """Return the length that each piece is cut to."""
    return {
        (cut.cord, number): cut.cut_mm for cord in cuts for cut in cord.cuts
        for number in cut.numbers
    }  # fmt: skip


def _decides(group: Group) -> int:
    """Return the strand with the longest need in a group that is cut alike."""
    needs = {s: n for p in group for s, n in zip(p.strands, p.needs_mm, strict=True)}
    return max(needs, key=needs.__getitem__)


def with_repeats(cuts: tuple[CordCut, ...], plan: Plan) -> tuple[CordCut, ...]:
    """Return a cut list with what one extra repeat of the varied part adds.

    Args:
        cuts: The cut list of the plan.
        plan: The plan; one with an extra repeat is compiled and measured for comparison.
    """
    part = varied_part(plan.project)
    if not part:
        return cuts
    step = by_repeats(plan.project, part)
    longer = compile_project(with_more(plan.project, part, step), plan.hands).plan
    if longer is None:
        return cuts
    return tuple(_growing(plan, longer, cut, step) for cut in cuts)


def _growing(plan: Plan, longer: Plan, cord: CordCut, step: int) -> CordCut:
    """Return a cord's cuts with what repeats add; a new piece is cut like its kind."""
    before = [piece for piece in pieces_of(plan) if piece.cord == cord.cord]
    grown_mm, new_mm = _grown(before, [p for p in pieces_of(longer) if p.cord == cord.cord])
    alike = {_exact(piece.need_mm): piece.number for piece in before}
    cut_mm = {number: cut.cut_mm for cut in cord.cuts for number in cut.numbers}
    extra = _extra(plan, cord)
    new = tuple(cut_mm.get(alike.get(_exact(mm), 0), mm * extra) for mm in new_mm)
    per_repeat_mm = (grown_mm * extra + sum(new)) / step
    return replace(cord, per_repeat_mm=per_repeat_mm, new=new, new_every=step)


def _grown(before: Sequence[Piece], after: Sequence[Piece]) -> tuple[float, Sequence[float]]:
    """Return the largest growth among pieces of one cord, and the needs of new pieces.

    What hangs from the start keeps its number; pieces that come later are matched by length.
    """
    hung = {piece.number: piece.need_mm for piece in before if piece.origin == _HUNG}
    more = [p.need_mm - hung[p.number] for p in after if p.number in hung and p.origin == _HUNG]
    old, later = ([p.need_mm for p in pieces if p.origin != _HUNG] for pieces in (before, after))
    for mm in [*old]:
        same = next((other for other in later if _exact(other) == _exact(mm)), None)
        if same is not None:
            old.remove(mm)
            later.remove(same)
    old, later = sorted(old, reverse=True), sorted(later, reverse=True)
    more += [mm - other for mm, other in zip(later, old, strict=False)]
    return max((0.0, *more)), later[len(old) :]


def _exact(length_mm: float) -> float:
    return round(length_mm, 6)


def _extra(plan: Plan, cord: CordCut) -> float:
    """Return the factor from cord used to cord cut, margin included."""
    if plan.project.margin is not None:
        return 1 + plan.project.margin
    strand = max(cord.cuts, key=lambda cut: cut.cut_mm).longest
    used = plan.ledgers[strand].total_mm
    return 1 + risk_of(plan).beyond_mm(strand, TYPICAL) / used if used else 1.0
