"""What comes before the first knot, in words: what to cut, and how large it gets."""

from dataclasses import dataclass
from typing import Final

from coach.plan.cord.cut_list import CordCut, Cut
from coach.plan.plan_model import Origin, Plan
from coach.plan.wording.cutting_words import whose
from coach.plan.wording.strand_names import cord_look
from coach.quantities import show_cut, show_length
from coach.text import listed

_FOR: Final[dict[Origin, str]] = {
    "hung": "", "added": "to add later", "wrap": "to wrap with", "clasp": "for the clasp"
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class CutRow:
    """Pieces of one cord cut to one length: all in words but `colour`, which is #rrggbb."""

    cord: str
    look: str
    colour: str
    pieces: int
    length: str
    purpose: str


def cut_rows(plan: Plan, cuts: tuple[CordCut, ...]) -> list[CutRow]:
    """Return the cut list, one row for all pieces of one length."""
    return [_row(plan, cord, cut) for cord in cuts for cut in cord.cuts]


def _row(plan: Plan, cord: CordCut, cut: Cut) -> CutRow:
    of = plan.project.cords[cord.cord]
    purpose = _FOR[cut.origin]
    if not purpose and sum(other.origin == cut.origin for other in cord.cuts) > 1:
        purpose = f"for {whose(plan, cut)}"
    length = show_cut(cut.cut_mm)
    return CutRow(cord.cord, cord_look(of), of.colour, cut.pieces, length, purpose)


def cut_total(cuts: tuple[CordCut, ...]) -> str:
    """Return what each cord comes to in all."""
    return listed([f"{show_cut(cord.total_mm)} of {cord.cord}" for cord in cuts])


def size_line(plan: Plan) -> str:
    """Say how large the finished work is, what it aims for and what its maker measured."""
    size = plan.project.size
    state = f", {size.state}" if size else ""
    length, width = show_length(plan.length_mm), show_length(plan.width_mm)
    return f"About {length} long and {width} wide{state}. {size_words(plan)}".strip()


def size_words(plan: Plan, unit: str = "cm") -> str:
    """Say which length the file aims for and which one its maker measured, "" without either."""
    size = plan.project.size
    told = []
    if size and size.wish_mm:
        told.append(f"The project aims for {show_length(size.wish_mm, unit)}.")
    if size and size.length_mm:
        repeats = " with the repeats in the file" if size.vary else ""
        told.append(f"Its maker measured {show_length(size.length_mm, unit)}{repeats}.")
    return " ".join(told)
