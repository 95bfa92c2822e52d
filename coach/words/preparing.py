"""What comes before the first knot, in words: what to cut, to have ready and to hang."""

from dataclasses import dataclass
from itertools import groupby
from typing import Final

from coach.knots import names
from coach.knots.geometry import LOOPED, PINNED
from coach.plan.cord.cut_list import CordCut
from coach.plan.measure.mounting import way_of_hanging
from coach.plan.plan_model import Origin, Plan
from coach.plan.wording.strand_names import cord_look
from coach.quantities import show_length
from coach.text import listed

_FOR: Final[dict[Origin, str]] = {
    "hung": "", "added": "to add later", "wrap": "to wrap with", "clasp": "for the clasp"
}  # fmt: skip
_METRE_MM: Final = 1000.0


@dataclass(frozen=True, slots=True)
class CutRow:
    """Pieces of one cord cut to one length: all in words but `colour`, which is #rrggbb."""

    cord: str
    look: str
    colour: str
    pieces: int
    length: str
    purpose: str


def metres(length_mm: float) -> str:
    """Return a length to cut, in metres from one metre on."""
    if length_mm < _METRE_MM:
        return show_length(length_mm)
    return f"{length_mm / _METRE_MM:.3f}".rstrip("0").rstrip(".") + " m"


def cut_rows(plan: Plan, cuts: tuple[CordCut, ...]) -> list[CutRow]:
    """Return the cut list, one row for all pieces of one length."""
    rows = []
    for cord in cuts:
        look = cord_look(plan.project.cords[cord.cord])
        colour = plan.project.cords[cord.cord].colour
        rows += [
            CutRow(cord.cord, look, colour, cut.pieces, metres(cut.cut_mm), _FOR[cut.origin])
            for cut in cord.cuts
        ]
    return rows


def cut_total(cuts: tuple[CordCut, ...]) -> str:
    """Return what each cord comes to in all."""
    return listed([f"{metres(cord.total_mm)} of {cord.cord}" for cord in cuts])


def hanging(plan: Plan) -> str:
    """Say on what and how the pieces hang, and the strands from the left."""
    start = plan.project.start
    runs = [(cord, len(list(run))) for cord, run in groupby(piece.cord for piece in start.pieces)]
    names_of = [f"{count} {cord}" if count > 1 else cord for cord, count in runs]
    if start.layout == "nest":
        lay = f"Lay {listed(names_of)} over each other and fold them together, the first outermost"
    elif start.layout == "hang":
        lay = f"Hang {', '.join(names_of)} side by side, from the left"
    else:
        lay = "Hang the strands side by side"
    way = way_of_hanging(start)
    how = way if way in (LOOPED, PINNED) else f"by a {way or names.LARKS_HEAD} each"
    over = f"counting on over the seam, {len(plan.start) + 1} is 1 again"
    closed = f" The work is closed into a round: {over}." if start.closed else ""
    return f"{lay}; {how} on the {start.on}. {_from_left(plan)}{closed}"


def _from_left(plan: Plan) -> str:
    strands = [plan.strands[strand].cord for strand in plan.start]
    places: list[str] = []
    at = 1
    for cord, run in groupby(strands):
        number = len(list(run))
        last = at + number - 1
        places.append(f"{at} {cord}" if number == 1 else f"{at} to {last} {cord}")
        at = last + 1
    return f"From the left hang {', '.join(places)}."


def size_line(plan: Plan) -> str:
    """Say how large the finished work is, and what its maker measured."""
    size = plan.project.size
    state = f", {size.state}" if size else ""
    measured = (
        f" The maker measured {show_length(size.length_mm)}." if size and size.length_mm else ""
    )
    return (
        f"About {show_length(plan.length_mm)} long and {show_length(plan.width_mm)} wide{state}."
        f"{measured}"
    )
