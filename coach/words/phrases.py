"""Phrases of written instructions: how many, of what, on which strands."""

from collections.abc import Sequence
from typing import Final

from coach.knots.catalogue import CATALOGUE
from coach.plan.wording.bench_phrases import (
    END_FOR_END,
    attach_words,
    bring_down_words,
    fold_back_words,
)
from coach.plan.wording.place_words import groups_words
from coach.plan.wording.strand_names import strands_at
from coach.project import model
from coach.project.model import Each, Groups, Positions
from coach.text import an, counted_words, join_words, number_in_words, times_over

_MOST_GROUPS: Final = 4


def knot_phrase(knot: str, number: int = 1) -> str:
    """Return a knot's name with the word that explains it; a single one has its article."""
    said = CATALOGUE[knot].said_as if knot in CATALOGUE else ""
    aside = f" ({said})" if said else ""
    return f"{an(knot) if number == 1 else counted_words(number, knot)}{aside}"


def strand_list(positions: Positions, everything: str = "all strands") -> str:
    """Return strands in words, `strands 4 to 6`, `all strands` where all are meant."""
    return everything if positions.everything else strands_at(positions.items)


def each_of(positions: Positions, everything: str = "the other strands") -> str:
    """Return strands met one after the other: `strand 4`, `each of strands 5 down to 1`."""
    one = not positions.everything and len(positions.items) == 1
    return f"{'' if one else 'each of '}{strand_list(positions, everything)}"


def group_list(groups: Groups) -> str:
    """Return groups in words: `strands 1 to 4 and 5 to 8`, `strands 1 to 40 in groups of four`."""
    members = groups.members
    if len(members) == 1:
        return strand_list(members[0])
    if len(members) <= _MOST_GROUPS or not _even(members):
        return groups_words([member.items for member in members])
    return _in_groups(members)


def groups_in_turn(each: Each) -> str:
    """Return groups worked one after the other: `each pair in turn: 1 and 2, 3 and 4`."""
    before, colon, spans = group_list(each.groups).partition(": ")
    return f"{before} in {'any order' if each.any_order else 'turn'}{colon}{spans}"


def on_each(groups: Groups, word: str) -> str:
    """Return what each group gets for itself: `on strands 1 to 4 and on strands 5 to 8`."""
    members = groups.members
    if len(members) > _MOST_GROUPS and _even(members):
        return f"{word} {_in_groups(members)}"
    return join_words([f"{word} {strand_list(member)}" for member in members])


def _in_groups(members: Sequence[Positions]) -> str:
    first, last = members[0].items[0], members[-1].items[-1]
    return f"strands {first} to {last} in groups of {number_in_words(len(members[0].items))}"


def _even(members: Sequence[Positions]) -> bool:
    """Return whether groups of one size stand side by side, in order from the left."""
    items = [item for member in members for item in member.items]
    sizes = {len(member.items) for member in members}
    return len(sizes) == 1 and items == list(range(items[0], items[0] + len(items)))


def told_at_bench(step: model.Step) -> str:
    """Return one of these steps in a sentence; "" for a step of another kind."""
    match step:
        case model.RigidRow():
            what, over = knot_phrase(step.knot, step.times), each_of(step.across, "the strands")
            return f"Tie {what} onto the {step.onto} with {over}."
        case model.OwnTied():
            times = f" {times_over(step.times)}" if step.times > 1 else ""
            return f"Tie your {step.knot}{times} {on_each(step.groups, 'with')}."
        case model.Attach():
            at = strand_list(step.at) if step.at.items or step.at.everything else ""
            return attach_words(step, f"a {step.apart}" if step.apart else "", at)
        case model.EndForEnd():
            return END_FOR_END
        case model.BringDown():
            cords = join_words(tuple(dict.fromkeys(name.rpartition(".")[0] for name in step.ends)))
            first, number = step.at.items[0], len(step.ends)
            return bring_down_words(cords, number, strands_at(range(first, first + number)))
        case model.FoldBack():
            return fold_back_words(strand_list(step.strands), step.loop_mm)
        case _:
            return ""
