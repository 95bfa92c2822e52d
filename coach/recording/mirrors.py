"""Finding steps that are the mirror image of those before them."""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from coach.knots.names import mirror_image
from coach.plan.plan_model import Plan, PlannedStep
from coach.recording.repeat_folding import Block

MOST_LONG: Final = 24  # steps of a part that is looked for
_SIDED: Final = re.compile(
    r"(row|knot|holder|knotter|across|around|strands|groups|times): (\"[^\"]*\"|\[[^]]*\]|[^,]+)"
)
_PLAINLY: Final = re.compile(r"(space: [^,]*|do: \"[^\"]*\"|wait: [^,]*|measure: [^,]*)")


@dataclass(frozen=True, slots=True)
class _Seen:
    """The ties of one block, by positions from the left, and their mirror image."""

    tied: tuple[object, ...]
    mirrored: tuple[object, ...]


def with_mirrors(blocks: Sequence[Block], plan: Plan, *, beyond: int = 0) -> tuple[Block, ...]:
    """Return the blocks with those that mirror earlier ones marked as mirror images.

    Args:
        blocks: What was knotted, one entry of the work each except for mirrored blocks.
        plan: The plan whose work ends with just these blocks, step by step.
        beyond: How many entries its work has after them.
    """
    seen = _seen(blocks, plan, beyond)
    found: list[Block] = []
    at = 0
    while at < len(blocks):
        length, turns = _best(seen, at)
        part = blocks[at : at + length]
        found.extend(part)
        steps = tuple(step for block in part for step in block.steps)
        for turn in range(1, turns):
            mirrored = Block(steps, mirrored=True, said=part[0].said)
            found.extend((mirrored,) if turn % 2 else part)
        at += length * turns
    return tuple(found)


def _best(seen: Sequence[_Seen | None], at: int) -> tuple[int, int]:
    """Return the length of the mirrored part that begins here, and its number of turns."""
    best, saved = (1, 1), 0
    for length in range(1, min(MOST_LONG, (len(seen) - at) // 2) + 1):
        turns = 1
        while _mirrors(seen, at + (turns - 1) * length, length):
            turns += 1
        saves = (turns - 1) * length - 1
        if saves > saved:
            best, saved = (length, turns), saves
    return best


def _mirrors(seen: Sequence[_Seen | None], at: int, length: int) -> bool:
    """Return whether so many blocks are followed by their mirror image, and it is another."""
    first, then = seen[at : at + length], seen[at + length : at + 2 * length]
    if len(then) < length or None in first or None in then:
        return False
    pairs = [(a, b) for a, b in zip(first, then, strict=True) if a and b]
    return all(b.tied == a.mirrored for a, b in pairs) and any(b.tied != a.tied for a, b in pairs)


def _seen(blocks: Sequence[Block], plan: Plan, beyond: int) -> list[_Seen | None]:
    steps = _by_entry(plan)
    entries = sum(1 if block.mirrored else len(block.steps) for block in blocks)
    number = len(plan.project.work) - entries - beyond + 1
    seen: list[_Seen | None] = []
    for block in blocks:
        many = 1 if block.mirrored else len(block.steps)
        alone = not block.mirrored and many == 1
        seen.append(_of(block.steps[0], steps.get(number, []), plan) if alone else None)
        number += many
    return seen


def _by_entry(plan: Plan) -> dict[int, list[PlannedStep]]:
    """Return the planned steps by the number of the entry of the work that they belong to."""
    found: dict[int, list[PlannedStep]] = {}
    for step in plan.steps:
        frame, number = step.frame, step.number
        while frame.outer is not None and frame.outer.outer is not None:
            frame, number = frame.outer, frame.number
        if frame.name:  # before the fold, or made apart before the work
            continue
        found.setdefault(number, []).append(step)
    return found


def _of(text: str, steps: Sequence[PlannedStep], plan: Plan) -> _Seen | None:
    """Return what a step ties; None where its mirror image cannot be told."""
    if _PLAINLY.fullmatch(text):
        return _Seen((text,), (text,))
    if _SIDED.sub("", text).strip(", ") or not steps:
        return None
    tied: list[object] = []
    mirrored: list[object] = []
    for step in steps:
        width, order = len(step.before), list(step.before)
        for count in plan.counts[step.first : step.end]:
            hands = [[order.index(s) + 1 for s in some if s in order]
                     for some in (count.knotters, count.fillers)]  # fmt: skip
            if step.role == "row":
                order = _passed(order, step, count.knotters[0], count.fillers[0])
            other = [sorted(width + 1 - at for at in some) for some in hands]
            tied.append((step.role, count.knot, *map(tuple, map(sorted, hands))))
            mirrored.append((step.role, mirror_image(count.knot), *map(tuple, other)))
    return _Seen(tuple(tied), tuple(mirrored))


def _passed(order: list[int], step: PlannedStep, one: int, other: int) -> list[int]:
    """Return the order after the mover of a row has passed one strand."""
    if step.mover not in (one, other) or one not in order or other not in order:
        return order
    a, b = order.index(one), order.index(other)
    after = list(order)
    after[a], after[b] = order[b], order[a]
    return after
