"""Printed sentences for work beyond netting, counted from the left as in the file."""

from coach.plan.wording.bench_phrases import (
    END_FOR_END,
    attach_words,
    bring_down_words,
    fold_back_words,
)
from coach.plan.wording.strand_names import strands_at
from coach.project import model
from coach.text import listed, times_over
from coach.words.phrases import each_of, on_each, places, spoken


def told_at_bench(step: model.Step) -> str:
    """Return one of these steps in a sentence; "" for a step of another kind."""
    match step:
        case model.RigidRow():
            what, over = spoken(step.knot, step.times), each_of(step.across, "the strands")
            return f"Tie {what} onto the {step.onto} with {over}."
        case model.OwnTied():
            times = f" {times_over(step.times)}" if step.times > 1 else ""
            return f"Tie your {step.knot}{times} {on_each(step.groups, 'with')}."
        case model.Attach():
            at = places(step.at) if step.at.items or step.at.everything else ""
            return attach_words(step, f"a {step.apart}" if step.apart else "", at)
        case model.EndForEnd():
            return END_FOR_END
        case model.BringDown():
            cords = listed(tuple(dict.fromkeys(name.rpartition(".")[0] for name in step.ends)))
            first, number = step.at.items[0], len(step.ends)
            return bring_down_words(cords, number, strands_at(range(first, first + number)))
        case model.FoldBack():
            return fold_back_words(places(step.strands), step.loop_mm)
        case _:
            return ""
