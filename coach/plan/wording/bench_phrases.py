"""Sentences for work beside netting on a board: attaching, turning, bringing down, folding back."""

from collections.abc import Sequence

from coach.plan.plan_model import Plan, PlannedStep
from coach.plan.wording.strand_names import positions_of, strand_words, strands_at
from coach.project import model
from coach.quantities.formatting import length_phrase
from coach.text import an, capital, join_words, plural

_HOW = {
    "sewn": "Sew {} on",
    "lark's head": "Hang {} with a lark's head",
    "knotted": "Knot {} on",
    "looped": "Loop {} on",
}
_LAYERS = {"": "", "front": ", in front of the work", "behind": ", behind the work"}
END_FOR_END = "Turn the work end for end; the ends that waited above now hang down."


def attach_words(step: model.Attach, what: str, where: str) -> str:
    """Return how something made apart is attached.

    Args:
        step: The step.
        what: What it is called: `handle 1 of 2`.
        where: The strands that it is attached at, in words; "" for none.
    """
    at = f" at {where}" if where else ""
    return f"{_HOW[step.by].format(what)}{at}{_LAYERS[step.layer]}."


def attached_number(plan: Plan, step: PlannedStep) -> str:
    """Return which piece is attached: `handle 1 of 2`, or `the tassel` where it is made once."""
    source = step.source
    if not isinstance(source, model.Attach):
        return ""
    made = plan.project.apart[source.apart].make
    before = sum(
        isinstance(other.source, model.Attach) and other.source.apart == source.apart
        for other in plan.steps[: step.index]
    )
    return f"{source.apart} {before + 1} of {made}" if made > 1 else f"the {source.apart}"


def plain_bench_words(plan: Plan, step: PlannedStep) -> str:
    """Return what to do in one of these steps without a knot; "" for other steps."""
    source, strands = step.source, step.groups[0] if step.groups else ()
    on = strands_at(positions_of(step, strands))
    match source:
        case model.Attach():
            return attach_words(source, attached_number(plan, step), on if strands else "")
        case model.EndForEnd():
            return END_FOR_END
        case model.BringDown():
            cords = _cords([plan.strands[s].cord for s in step.new_strands])
            places = [step.after.index(strand) + 1 for strand in step.new_strands]
            return bring_down_words(cords, len(step.new_strands), strands_at(places))
        case model.FoldBack(loop_mm=loop):
            return fold_back_words(on, loop)
        case _:
            return ""


def _cords(names: Sequence[str]) -> str:
    """Return the cords whose ends are meant, each once: `core`, `core and tide`."""
    return join_words(tuple(dict.fromkeys(names)))


def bring_down_words(cords: str, ends: int, places: str) -> str:
    """Return which free ends of the start come down, and as which strands they hang then.

    Args:
        cords: The cords in words.
        ends: How many ends there are.
        places: The strands that they become, in words.
    """
    free = plural("end", ends)
    return f"Bring the free {free} of {cords} down beside the work as {places}."


def fold_back_words(on: str, loop_mm: float) -> str:
    """Return which strands are folded back, and what loop they leave."""
    return f"Fold {on} back along the work, leaving {length_phrase(loop_mm)} loop at the bottom."


def rigid_words(plan: Plan, step: PlannedStep, done: int) -> str:
    """Return which strand ties onto what is rigid, and which come after it.

    Args:
        plan: The plan.
        step: A row of hitches onto a bar, a ring or a wire.
        done: How many counts of the whole plan are made; that tie comes next.
    """
    onto = step.source.onto if isinstance(step.source, model.RigidRow) else ""
    count = plan.counts[done]
    at_hand = count.knotters[0]
    rest = [s for c in plan.counts[done + 1 : step.end] if (s := c.knotters[0]) != at_hand]
    then = f"; then {strands_at(positions_of(step, tuple(dict.fromkeys(rest))))}"
    now = strand_words(plan, at_hand, step.before)
    return capital(f"{now} ties {an(count.knot)} onto the {onto}{then if rest else ''}.")


def own_knot_words(step: PlannedStep, knot: str, strands: tuple[int, ...]) -> str:
    """Return which strands tie a knot of the maker's own.

    Args:
        step: The step, which knows where they hang.
        knot: The knot's name.
        strands: Their indices, from the left.
    """
    return f"Tie your {knot} with {strands_at(positions_of(step, strands))}."
