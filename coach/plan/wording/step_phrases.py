"""Steps without a knot in words, and every step in one short line."""

from collections.abc import Sequence
from itertools import groupby

from coach.knots import names
from coach.knots.geometry import LOOPED, PINNED
from coach.plan.compile.walker import GROUP
from coach.plan.measure.mounting import LAID_IN
from coach.plan.plan_model import Count, Plan, PlannedStep
from coach.plan.wording.bench_phrases import plain_bench_words
from coach.plan.wording.lengths import centimetres
from coach.plan.wording.strand_names import positions_of, span_words, strand_label, strand_words
from coach.project import model
from coach.text import listed, plural


def plain_sentence(plan: Plan, step: PlannedStep, done: int) -> str:  # noqa: C901, PLR0911, PLR0912 - one short case for each kind of step
    """Say what to do in a step without a knot, or in one crossing of a plait."""
    source, strands = step.source, tuple(s for group in step.groups for s in group)
    on = span_words(positions_of(step, strands))
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
            return f"Leave {centimetres(length)} unknotted on {on}."
        case model.Picot(loop_mm=loop):
            return f"Leave a loop of {centimetres(loop)} of cord standing out on {on}."
        case model.Bead(size_mm=size):
            return f"Thread {on} through a bead of {centimetres(size)}."
        case model.Turn():
            return _turn(plan, step)
        case model.Cross():
            return _order(step)
        case model.Add():
            return _add(plan, step, plan.counts[done])
        case model.LayAside():
            return f"Lay aside {on}: done for now."
        case model.TakeUp():
            return _take_up(plan, step, strands)
        case model.Flip():
            return "Turn the whole work over; what was right is left now."
        case model.Seam():
            return f"Count anew from {strand_words(plan, step.after[0], step.before)}."
        case model.Trim():
            return _trim(source, on)
        case _:
            return plain_bench_words(plan, step) or source.about.name or "Go on."


def _minutes(time_s: float) -> str:
    return f"{time_s / 60:.3g} min" if time_s >= 60 else f"{time_s:.3g} s"  # noqa: PLR2004


def _braid(plan: Plan, step: PlannedStep, done: int) -> str:
    source = step.source
    if isinstance(source, model.Braid) and source.length_mm is not None:
        first = "left" if step.mirrored else "right"
        return (
            f"Plait {_bundles(step)} for {centimetres(source.length_mm)}, the outer {first} one "
            "first into the middle, in whole turns of six crossings."
        )
    moving = plan.counts[done].knotters
    # The first crossing comes from the right, then from each side in turn.
    side = "right" if (done - step.first) % 2 == step.mirrored else "left"
    runs = groupby(sorted(plan.strands[strand].cord for strand in moving))
    sorts = [(cord, len(list(run))) for cord, run in runs]
    what = listed([f"{count} {cord}" if len(moving) > 1 else cord for cord, count in sorts])
    one = "bundle" if len(moving) > 1 else "one"
    return f"Plait: the outer {side} {one}, {what}, goes into the middle."


def _bundles(step: PlannedStep) -> str:
    """Return the three strands or bundles of a plait from the left: `1-3, 4 and 5-6`."""
    places = [positions_of(step, group) for group in step.groups]
    if step.mirrored:
        places = [group[::-1] for group in reversed(places)]
    return listed([f"{p[0]}-{p[-1]}" if len(p) > 1 else f"{p[0]}" for p in places])


def _turn(plan: Plan, step: PlannedStep) -> str:
    holder, *around = step.groups[0]
    words = strand_words(plan, holder, step.before)
    if not around:
        return f"Turn {words} round a pin, to go back the other way."
    return f"Turn {words} over {strand_words(plan, around[0], step.before)} and back under it."


def _order(step: PlannedStep) -> str:
    was = [step.before.index(strand) + 1 for strand in step.after]
    moved = [place for place, old in enumerate(was, start=1) if place != old]
    if not moved:
        return "Leave the strands in their order."
    run = range(moved[0], moved[-1] + 1)
    stood = ", ".join(str(was[place - 1]) for place in run)
    return f"Let {span_words(run)} change places, with no knot: from the left now {stood}."


def _add(plan: Plan, step: PlannedStep, count: Count) -> str:
    pieces = listed(list(dict.fromkeys(strand_label(plan, s)[:-1] for s in step.new_strands)))
    at = span_words(sorted(step.after.index(strand) + 1 for strand in step.new_strands))
    by = step.source.by if isinstance(step.source, model.Add) else ""
    if not count.fillers or by == LAID_IN:
        return f"Lay in {pieces}, to stand at {at}."
    onto = strand_words(plan, count.fillers[0], step.before)
    how = by if by in (LOOPED, PINNED) else f"by a {by or names.LARKS_HEAD}"
    return f"Hang {pieces} onto {onto}, {how}, to stand at {at}."


def _take_up(plan: Plan, step: PlannedStep, strands: Sequence[int]) -> str:
    """Say which strands come back, by where they hung when they were laid aside."""
    past = [s for s in plan.steps[: step.index] if isinstance(s.source, model.LayAside)]
    hung = [
        next((strand_words(plan, strand, s.before) for s in reversed(past) if strand in s.before),
             strand_words(plan, strand, ()))
        for strand in strands
    ]  # fmt: skip
    what = plural("strand", len(strands))
    at = span_words([step.after.index(strand) + 1 for strand in strands])
    return f"Take up the {what} laid aside as {listed(hung)}, to stand at {at}."


def _trim(source: model.Trim, on: str) -> str:
    if source.middle_mm is None:
        return f"Cut {on} off {centimetres(source.leave_mm)} below the last knot."
    return (
        f"Cut {on} in a straight line from {centimetres(source.leave_mm)} at the sides to "
        f"{centimetres(source.middle_mm)} in the middle."
    )


def step_line(plan: Plan, index: int) -> str:
    """Return a step in one short line, to be read while the hands are on another."""
    step = plan.steps[index]
    count = plan.counts[step.first]
    if step.role in ("row", "weave"):
        mover, *crossed = step.groups[0]
        over = span_words(positions_of(step, crossed))
        what = "weave" if step.role == "weave" else count.knot
        return (
            f"{what}, {strand_words(plan, mover, step.before)} to the {step.direction} over {over}"
        )
    if step.role in ("plain", "braid"):
        if step.counts > 1:
            return f"plait {_bundles(step)}, {step.counts} crossings"
        return plain_sentence(plan, step, step.first).rstrip(".")
    on = listed([span_words(positions_of(step, group)) for group in step.groups[:4]])
    more = " and on" if len(step.groups) > 4 else ""  # noqa: PLR2004 - four fit in a line
    each = step.counts // max(1, len(step.groups))
    times = f", {each} times" if each > 1 else ""
    gap = gap_words(plan, step)
    after = f"after a {gap}, " if gap else ""
    return f"{after}{count.knot} on {on}{more}{times}"


def gap_words(plan: Plan, step: PlannedStep) -> str:
    """Return the gap left above a row of a net, `2 cm gap below the row above`; "" for none."""
    source = step.source
    if not isinstance(source, model.Net) or step.net_row == 1 or not source.gap_mm:
        return ""
    row = "round" if goes_round(plan, step) else "row"
    return f"{centimetres(source.gap_mm)} gap below the {row} above"


def goes_round(plan: Plan, step: PlannedStep) -> bool:
    """Tell whether a net closes over the seam, so that every row takes every strand.

    Elsewhere an even net has a group less in each second row, and strands wait at its sides.
    """
    source = step.source
    if not isinstance(source, model.Net) or source.sides != "even" or source.rows == 1:
        return False
    first = step.index - step.net_row + 1
    rows = plan.steps[first : first + 2]
    return len({len(row.groups) for row in rows}) == 1 and len(rows) == 2  # noqa: PLR2004 - a row and one that is set off


def where(plan: Plan, done: int) -> tuple[str, ...]:
    """Return the place in the piece, from the outermost part to the step within the innermost."""
    step = plan.step_at(min(done, plan.total - 1))
    if step is None:
        return ()
    places = []
    for visit in step.trail:
        mirrored = ", mirrored" if visit.mirrored else ""
        if visit.name == GROUP:
            places.append(f"group {visit.turn} of {visit.turns}{mirrored}")
        elif visit.name:
            turn = f", repeat {visit.turn} of {visit.turns}" if visit.turns > 1 else ""
            places.append(f"{visit.name}{turn}{mirrored}")
    last = step.trail[-1]
    places.append(f"step {last.step} of {last.steps}")
    if step.net_row:
        places.append(f"net {'round' if goes_round(plan, step) else 'row'} {step.net_row}")
    return tuple(places)
