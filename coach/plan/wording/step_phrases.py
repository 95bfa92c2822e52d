"""Sentences for steps without a knot."""

from collections import Counter
from collections.abc import Mapping, Sequence

from coach.knots import names
from coach.knots.geometry import LOOPED, PINNED
from coach.plan.board_at_count import order_at
from coach.plan.measure.strand_ends import LAID_IN
from coach.plan.plan_model import Count, Plan, PlannedStep
from coach.plan.wording.bench_phrases import plain_bench_words
from coach.plan.wording.strand_names import (
    is_all,
    positions_of,
    strand_words,
    strands_at,
    strands_met,
)
from coach.project import model
from coach.quantities.formatting import centimetres, length_phrase
from coach.text import an, capital, counted_words, join_words, number_in_words, plural

ALL_ENDS = "all ends"
TURN_OVER = "Turn the whole work over from side to side; right becomes left."


def plain_sentence(plan: Plan, step: PlannedStep, done: int) -> str:  # noqa: C901, PLR0911, PLR0912 - one short case for each kind of step
    """Return what to do in a step without a knot, or in one crossing of a plait.

    Args:
        plan: The plan.
        step: The step.
        done: How many counts of the whole plan are made; the sentence of a plait tells that
            crossing.
    """
    source, strands = step.source, tuple(s for group in step.groups for s in group)
    on = strands_met(plan, step, [strand for strand in step.before if strand in strands])
    match source:
        case model.Do(text=text):
            return text
        case model.Braid():
            return _braid(plan, step, done)
        case model.Measure(what=what, expect_mm=expect):
            hoped = f"; it should be about {centimetres(expect)}" if expect else ""
            return f"Measure the {what}{hoped}."
        case model.Wait(time_s=time_s):
            return f"Wait {_minutes(time_s)}."
        case model.Space(length_mm=length):
            return f"Leave {length_phrase(length)} gap on {on}."
        case model.Picot(loop_mm=loop):
            each = "each of " if len(strands) > 1 else ""
            return f"Leave a loop of {centimetres(loop)} of cord on {each}{on}."
        case model.Bead(size_mm=size):
            return f"Thread {on} through {length_phrase(size)} bead."
        case model.Turn():
            return _turn(plan, step)
        case model.Cross():
            return _order(step)
        case model.Add():
            return _add(plan, step, plan.counts[done])
        case model.LayAside():
            return f"Lay {on} aside for now."
        case model.TakeUp():
            return taking_up(plan, step, strands)
        case model.Flip():
            return TURN_OVER
        case model.Seam():
            first = strand_words(plan, step.after[0], step.before)
            return f"From here, count from {first} as strand 1."
        case model.Trim():
            return trim_words(source, ALL_ENDS if is_all(step, strands) else on)
        case _:
            named = f"{source.about.name or 'carry on'}."
            return plain_bench_words(plan, step) or capital(named)


def _minutes(time_s: float) -> str:
    return f"{time_s / 60:.3g} min" if time_s >= 60 else f"{time_s:.3g} s"  # noqa: PLR2004


def _braid(plan: Plan, step: PlannedStep, done: int) -> str:
    source = step.source
    if isinstance(source, model.Braid) and source.length_mm is not None:
        return plait_words(
            bundles_of(step), source.length_mm, hand="left" if step.mirrored else "right"
        )
    moving = plan.counts[done].knotters
    # The first crossing comes from the right, then from each side in turn.
    hand = "right" if (done - step.first) % 2 == step.mirrored else "left"
    order = order_at(plan, done)
    one = strand_words(plan, moving[0], order)
    places = sorted(order.index(strand) + 1 for strand in moving if strand in order)
    what = strands_at(places) if len(moving) > 1 else one
    return f"Plait: take {what} from the {hand} over the middle."


def plait_words(
    bundles: Sequence[Sequence[int]],
    length_mm: float | None,
    crossings: int | None = None,
    hand: str = "right",
) -> str:
    """Return how three strands or bundles at these positions are plaited, and who goes over first.

    Args:
        bundles: Positions from 1 of each, three of them, from the left.
        length_mm: How long the plait is, None where its crossings are counted.
        crossings: How many, where there is no length.
        hand: "left" or "right": whose outer one goes first.
    """
    one = "bundle" if any(len(bundle) > 1 for bundle in bundles) else "strand"
    first = f"{hand}-hand {one} first over the middle"
    if length_mm is None:
        times = counted_words(crossings or 0, "crossing")
        return f"Plait {bundle_words(bundles)} with {times}, {first}."
    return (
        f"Plait {bundle_words(bundles)} for {centimetres(length_mm)}, {first}; finish after a "
        "multiple of six crossings."
    )


def bundles_of(step: PlannedStep) -> list[list[int]]:
    """Return the positions of the three strands or bundles of a plait from the left."""
    places = [positions_of(step, group) for group in step.groups]
    return [group[::-1] for group in reversed(places)] if step.mirrored else places


def bundle_words(bundles: Sequence[Sequence[int]]) -> str:
    """Return strands or bundles at these positions: `strands 1-3, 4 and 5-6`."""
    shown = [f"{p[0]}-{p[-1]}" if len(p) > 1 else f"{p[0]}" for p in bundles]
    return f"strands {join_words(shown)}"


def _turn(plan: Plan, step: PlannedStep) -> str:
    holder, *around = step.groups[0]
    words = strand_words(plan, holder, step.before)
    if not around:
        return f"Turn {words} back round a pin."
    return f"Turn {words} over {strand_words(plan, around[0], step.before)} and back under it."


def _order(step: PlannedStep) -> str:
    was = [step.before.index(strand) + 1 for strand in step.after]
    moved = [place for place, old in enumerate(was, start=1) if place != old]
    if not moved:
        return "Leave the strands in order."
    run = range(moved[0], moved[-1] + 1)
    return crossing_words(run, [was[place - 1] for place in run])


def crossing_words(places: Sequence[int], order: Sequence[int]) -> str:
    """Return which strands change places, with their old numbers in `order`."""
    return (
        f"Cross {strands_at(places)} without a knot; from the left they are now "
        f"{', '.join(map(str, order))}."
    )


def _add(plan: Plan, step: PlannedStep, count: Count) -> str:
    pieces = Counter(plan.strands[s].cord for s in step.new_strands if plan.strands[s].end == "a")
    at = sorted(step.after.index(strand) + 1 for strand in step.new_strands)
    by = step.source.by if isinstance(step.source, model.Add) else ""
    onto = strand_words(plan, count.fillers[0], step.before) if count.fillers else ""
    return adding_words(pieces, at, onto, by)


def adding_words(pieces: Mapping[str, int], at: Sequence[int], onto: str = "", by: str = "") -> str:
    """Return which cords join the work, at which strands, and how they hang.

    Args:
        pieces: How many of each cord.
        at: Where their strands stand then.
        onto: The strand that they hang from; "" where they are laid in.
        by: How they hang from it, as the file says it.
    """
    number = sum(pieces.values())
    what = join_words([f"{number_in_words(many)} {cord}" for cord, many in pieces.items()])
    what += f" {plural('cord', number)}"
    stand = f"as {strands_at(at)}"
    if not onto or by == LAID_IN:
        return f"Add {what} {stand}."
    if by == LOOPED:
        return f"Loop {what} over {onto}, {stand}."
    if by == PINNED:
        return f"Pin {what} to {onto}, {stand}."
    each = "each " if number > 1 else ""
    return f"Hang {what} on {onto}, {each}with {an(by or names.LARKS_HEAD)}, {stand}."


def taking_up(plan: Plan, step: PlannedStep, strands: Sequence[int]) -> str:
    """Return which strands come back, by where they hung when they were laid aside.

    Args:
        plan: The plan, in which the steps before tell where they hung.
        step: The step.
        strands: The strands that come back, from the left.
    """
    past = [s for s in plan.steps[: step.index] if isinstance(s.source, model.LayAside)]
    hung = [
        next((strand_words(plan, strand, s.before) for s in reversed(past) if strand in s.before),
             strand_words(plan, strand, ()))
        for strand in strands
    ]  # fmt: skip
    at = [step.after.index(strand) + 1 for strand in strands]
    become = "it becomes" if len(strands) == 1 else "they become"
    return (
        f"Pick up the {plural('strand', len(strands))} laid aside as {join_words(hung)}; {become} "
        f"{strands_at(at)}."
    )


def trim_words(source: model.Trim, on: str) -> str:
    """Return to what length ends are trimmed."""
    if source.middle_mm is None:
        leave = centimetres(source.leave_mm)
        return f"Trim {on} to {leave}." if on == ALL_ENDS else f"Trim {on}, leaving {leave}."
    return (
        f"Trim {on} in straight lines, from {centimetres(source.leave_mm)} at the sides to "
        f"{centimetres(source.middle_mm)} in the middle."
    )
