"""Printed sentences for how the pieces are folded and hung."""

from collections.abc import Iterator

from coach.knots.geometry import LOOPED, PINNED
from coach.plan.cord.cut_list import cut_list, lengths_of
from coach.plan.measure.strand_ends import hanging_method
from coach.plan.plan_model import Plan
from coach.plan.wording.cord_order_words import cords_from_left_words, from_left
from coach.quantities import in_units, show_cut
from coach.report.cutting_report import off_middle, pieces_hung
from coach.text import join_words


def hanging_instructions(plan: Plan, unit: str = "cm") -> str:
    """Return how the pieces are folded and hung, in the order of work, and who hangs where."""
    start = plan.project.start
    if not plan.start:
        return "Nothing is hung until the parts are made."
    if start.from_middle:
        return f"{_pin_middles(plan)} {from_left(plan)}"
    told = [_fold_nest(plan)] if start.layout == "nest" else list(_fold_each(plan))
    told = [in_units(said, unit) for said in told]
    told += [*off_middle(plan, unit), _hang(plan), from_left(plan)]
    if start.flat:
        told.append("The work is flat and round, and grows outward from the middle.")
    if start.closed:
        number = len(plan.start)
        told.append(
            f"The work is closed into a round: count on over the seam, so that strand {number + 1} "
            "is strand 1 again."
        )
    return " ".join(told)


def _pin_middles(plan: Plan) -> str:
    """Return the sentence about pinning pieces instead of folding them."""
    named = _named(pieces_hung(plan, "middle", "fit", "none"))
    return (
        f"Pin {named} to the {plan.project.start.on} by the middle, side by side and unfolded; "
        "one half of each hangs down, the other waits above."
    )


def laid_out(plan: Plan) -> str:
    """Return how the pieces lie side by side for work before they are folded."""
    ends = [number for number, strand in enumerate(plan.strands) if strand.end == "a"]
    order = next((step.before for step in plan.steps if step.unfolded), tuple(ends))
    lie = cords_from_left_words([plan.strands[strand].cord for strand in order], "piece")
    return f"Lay the pieces side by side, not folded yet. {lie}"


def _named(pieces: dict[str, int]) -> str:
    """Return pieces in words: `reed and clay`, `the 4 reed and 2 silt cords`."""
    if max(pieces.values(), default=0) == 1:
        return join_words([*pieces])
    if min(pieces.values(), default=0) > 1:
        return f"the {join_words([f'{number} {cord}' for cord, number in pieces.items()])} cords"
    each = [f"the {n} {cord} cords" if n > 1 else f"the {cord} cord" for cord, n in pieces.items()]
    return join_words(each)


def _fold_nest(plan: Plan) -> str:
    start, pieces = plan.project.start, pieces_hung(plan, "middle", "fit", "none")
    where = "" if pieces_hung(plan, "fit") else " in the middle"
    named = _named(pieces)
    if sum(pieces.values()) == 1:
        return f"Fold {named}{where}."
    first = _outermost(plan) if len(pieces) == 1 else start.pieces[0].cord
    if start.before_fold:
        return f"Now fold {named} together{where}, {first} on the outside."
    return f"Lay {named} together, {first} on the outside, and fold them{where}."


def _outermost(plan: Plan) -> str:
    """Return which of a cord's pieces lies outermost in a fold: by its length, if it can."""
    lengths = lengths_of(cut_list(plan))
    outer, *others = dict.fromkeys(plan.strands[strand].piece for strand in plan.start)
    cord = plan.strands[plan.start[0]].cord
    own, rest = lengths[cord, outer], [lengths[cord, other] for other in others]
    if own > max(rest):
        return "the longer" if len(rest) == 1 else "the longest"
    if own < min(rest):
        return "the shorter" if len(rest) == 1 else "the shortest"
    return "the first"


def _fold_each(plan: Plan) -> Iterator[str]:
    """Yield which cords are folded in the middle and which are not."""
    folded, single = pieces_hung(plan, "middle"), pieces_hung(plan, "none")
    if folded:
        each = "each of " if sum(folded.values()) > 1 else ""
        yield f"Fold {each}{_named(folded)} in the middle."
    for cord, number in single.items():
        lead = plan.project.cords[cord].lead_mm
        above = f", with {show_cut(lead)} left free above the first knot" if lead else ""
        if number == 1:
            yield f"Do not fold {cord}: it hangs as one strand{above}."
        else:
            yield f"Do not fold the {number} {cord} cords: each hangs as one strand{above}."


def _hang(plan: Plan) -> str:
    start = plan.project.start
    way = hanging_method(start)
    what = "the fold" if start.layout == "nest" else "them side by side"
    if way == PINNED:
        return f"Pin {what} to the {start.on}."
    if way == LOOPED:
        return f"Loop {what} through the {start.on}."
    each = "" if start.layout == "nest" else ", each"
    return f"Hang {what} on the {start.on}{each} with a {way}."
