"""Real work beside netting on a board as it is printed, counted from the left as in the file."""

from coach.plan.wording.bench_phrases import (
    END_FOR_END,
    attach_words,
    bring_down_words,
    fold_back_words,
    strands_named,
)
from coach.project import model
from coach.text import listed
from coach.words.phrases import group_list, spoken, times_over


def told_at_bench(step: model.Step) -> str:
    """Return one of these steps in a sentence; "" for a step of another kind."""
    match step:
        case model.RigidRow():
            over, several = _named(step.across), len(step.across.items) != 1
            twice = f", {times_over(step.times)} each" if step.times > 1 else ""
            ties = "each tie" if several else "ties"
            return f"Lay the {step.onto} across: {over} {ties} {spoken(step.knot)} onto it{twice}."
        case model.OwnTied():
            each = "each of " if len(step.groups.members) > 1 else ""
            times = f" {times_over(step.times)}" if step.times > 1 else ""
            return f"Tie your {step.knot}{times} with {each}{group_list(step.groups)}."
        case model.Attach():
            at = _named(step.at) if step.at.items or step.at.everything else ""
            return attach_words(step, f"a {step.apart}" if step.apart else "", at)
        case model.EndForEnd():
            return END_FOR_END
        case model.BringDown():
            cords = listed(tuple(dict.fromkeys(name.rpartition(".")[0] for name in step.ends)))
            first, number = step.at.items[0], len(step.ends)
            return bring_down_words(cords, number, strands_named(range(first, first + number)))
        case model.FoldBack():
            return fold_back_words(_named(step.strands), step.loop_mm)
        case _:
            return ""


def _named(positions: model.Positions) -> str:
    return "all strands" if positions.everything else strands_named(positions.items)
