"""Steps without a knot in words, and every step in one short line."""

from coach.knots import names
from coach.plan.model import Count, Plan, PlannedStep
from coach.plan.naming import positions_of, span_words, strand_label, strand_words
from coach.plan.unfold import GROUP
from coach.project import model
from coach.text import listed


def centimetres(length_mm: float) -> str:
    """Give a length as a maker reads it: `3 cm`, `15 mm`."""
    if length_mm < 20:  # noqa: PLR2004 - below two centimetres, makers say millimetres
        return f"{length_mm:.3g} mm"
    return f"{length_mm / 10:.4g} cm"


def plain_sentence(plan: Plan, step: PlannedStep, count: Count) -> str:  # noqa: C901, PLR0911, PLR0912 - one short case for each kind of step
    """Say what to do in a step without a knot, or in one crossing of a plait."""
    source, strands = step.source, tuple(s for group in step.groups for s in group)
    on = span_words(positions_of(step, strands))
    match source:
        case model.Do(text=text):
            return text
        case model.Braid():
            return _braid(plan, step, count)
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
            return f"Let the strands change places: from the left now {_order(step)}."
        case model.Add():
            return _add(plan, step, count)
        case model.LayAside():
            return f"Lay aside {on}: done for now."
        case model.TakeUp(strands=ids):
            at = span_words([step.after.index(strand) + 1 for strand in strands])
            return f"Take up {listed(list(ids))} again, to stand at {at}."
        case model.Flip():
            return "Turn the whole work over; what was right is left now."
        case model.Seam():
            return f"Count anew from {strand_words(plan, step.after[0], step.before)}."
        case model.Trim():
            return _trim(source, on)
        case _:
            return source.about.name or "Go on."


def _minutes(time_s: float) -> str:
    return f"{time_s / 60:.3g} min" if time_s >= 60 else f"{time_s:.3g} s"  # noqa: PLR2004


def _braid(plan: Plan, step: PlannedStep, count: Count) -> str:
    source = step.source
    if isinstance(source, model.Braid) and source.length_mm is not None:
        bundles = listed(["-".join(map(str, positions_of(step, group))) for group in step.groups])
        first = "left" if step.mirrored else "right"
        return (
            f"Plait {bundles} for {centimetres(source.length_mm)}, the outer {first} one first "
            "into the middle, in whole turns of six crossings."
        )
    moving = listed([strand_words(plan, strand, ()) for strand in count.knotters])
    return f"Plait: the outer {_side(plan, step, count)} one, {moving}, goes into the middle."


def _side(plan: Plan, step: PlannedStep, count: Count) -> str:
    """Give the side that a crossing comes from: the first from the right, then in turn."""
    crossing = plan.counts.index(count, step.first, step.end) - step.first
    return "left" if (crossing % 2 == 1) != step.mirrored else "right"


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
        return "as they were"
    low, high = moved[0] - 1, moved[-1]
    return f"those that stood at {', '.join(map(str, was[low:high]))}"


def _add(plan: Plan, step: PlannedStep, count: Count) -> str:
    pieces = listed(sorted({strand_label(plan, strand)[:-1] for strand in step.new_strands}))
    at = span_words([step.after.index(strand) + 1 for strand in step.new_strands])
    source = step.source
    if count.fillers and isinstance(source, model.Add):
        onto = strand_words(plan, count.fillers[0], step.before)
        return f"Hang {pieces} onto {onto} by a {source.by or names.LARKS_HEAD}, to stand at {at}."
    return f"Lay in {pieces}, to stand at {at}."


def _trim(source: model.Trim, on: str) -> str:
    if source.middle_mm is None:
        return f"Cut {on} to {centimetres(source.leave_mm)} below the last knot."
    return (
        f"Cut {on} in a straight line from {centimetres(source.leave_mm)} at the sides to "
        f"{centimetres(source.middle_mm)} in the middle."
    )


def step_line(plan: Plan, index: int) -> str:
    """Give a step in one short line, to be read while the hands are on another."""
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
        return plain_sentence(plan, step, count).rstrip(".")
    on = listed([span_words(positions_of(step, group)) for group in step.groups[:4]])
    more = " and on" if len(step.groups) > 4 else ""  # noqa: PLR2004 - four fit in a line
    each = step.counts // max(1, len(step.groups))
    times = f", {each} times" if each > 1 else ""
    return f"{count.knot} on {on}{more}{times}"


def where(plan: Plan, done: int) -> tuple[str, ...]:
    """Give the place in the piece, from the outermost part to the step within the innermost."""
    step = plan.step_at(min(done, plan.total - 1))
    if step is None:
        return ()
    places = []
    for visit in step.trail:
        if visit.name == GROUP:
            places.append(f"group {visit.turn} of {visit.turns}")
        elif visit.name:
            turn = f", repeat {visit.turn} of {visit.turns}" if visit.turns > 1 else ""
            places.append(f"{visit.name}{turn}{', mirrored' if visit.mirrored else ''}")
    last = step.trail[-1]
    places.append(f"step {last.step} of {last.steps}")
    if step.net_row:
        places.append(f"net row {step.net_row}")
    return tuple(places)
