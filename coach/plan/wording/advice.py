"""Warnings of the kind that a colleague gives who looks over a finished plan.

Nothing here is wrong: the piece can be made. Each rule is a function that yields its warnings
about a plan, each with a place in the file.
"""

from collections.abc import Iterator
from typing import Final

from coach.pace.estimate import expected_seconds, initial_paces
from coach.pace.prior import STATED_SKILLS
from coach.plan.from_text import PlanReading
from coach.plan.measure.measure import contact_mm
from coach.plan.measure.tie_size import bundle_size, widths
from coach.plan.pieces import pieces_of
from coach.plan.plan_model import Plan, PlannedStep
from coach.plan.resize.own_wish import refitted_to_own_wish
from coach.plan.resize.refit import CannotRefit, to_length
from coach.plan.standard_times import StandardTimes
from coach.plan.wording.geometry_advice import LONG_LOOSE_MM, disc_lies_flat, long_floats
from coach.plan.wording.other_reading import lie_unsaid, other_lie
from coach.plan.wording.strand_names import strand_label
from coach.project import model
from coach.quantities.formatting import centimetres
from coach.text import an, capital, join_words
from coach.yaml_reader.diagnostics import Problem, Problems, Span

_MOST_NAMED: Final = 6
_SPARE_MM: Final = 200.0  # less than this over is not worth a word
_PAIR: Final = 2
_OFF: Final = 0.25  # the model's own range of lengths, nearly
_CONTRADICTED: Final = 2.0  # times as long, or as short, as the counts say
_WHOM: Final = {"beginner": "a beginner"}


def with_advice(reading: PlanReading) -> PlanReading:
    """Return a reading with the warnings about its plan added, if it has a plan."""
    if reading.plan is None:
        return reading
    return PlanReading(reading.plan, Problems((*reading.problems, *advice(reading.plan))).sorted())


def advice(plan: Plan) -> tuple[Problem, ...]:
    """Return all warnings about a sound plan, in no particular order."""
    rules = (
        _never_used, _loose, _floating, _much_left, _mirror_swaps, lie_unsaid, _size_missed,
        _wish_missed, _takes_contradicted, _tied_smaller, disc_lies_flat,
    )  # fmt: skip
    return tuple(problem for rule in rules for problem in rule(plan))


def _warning(code: str, span: Span, message: str, hint: str) -> Problem:
    return Problem(code, span, message, hint, "warning")


def _names(plan: Plan, strands: list[int]) -> str:
    names = [strand_label(plan, strand) for strand in strands]
    rest = len(names) - _MOST_NAMED
    return join_words([*names[:_MOST_NAMED], f"{rest} more"] if rest > 0 else names)


def _never_used(plan: Plan) -> Iterator[Problem]:
    """Yield a warning that names strands that no knot, plait or bead ever holds."""
    held = _held(plan)
    idle = [s for s, strand in enumerate(plan.strands) if strand.origin == "hung" and s not in held]
    if idle:
        one = len(idle) == 1
        message = f"{_names(plan, idle)} {'is' if one else 'are'} never tied, plaited or beaded."
        hint = "Hang fewer pieces, or tie these strands into a knot."
        yield _warning("UNUSED", plan.project.start.span, message, hint)


def _held(plan: Plan) -> set[int]:
    """Return the strands held by a tie, plait, turn or bead; an unfolded piece is both ends."""
    held: set[int] = set()
    for step in plan.steps:
        if step.role != "plain" or isinstance(step.source, (model.Bead, model.Turn)):
            for count in plan.counts[step.first : step.end]:
                touched = (*count.knotters, *count.fillers)
                held.update(touched)
                if step.unfolded:
                    held.update(s + 1 for s in touched if not plan.strands[s].single)
    return held


def _loose(plan: Plan) -> Iterator[Problem]:
    """Name each strand that hangs loose over a length that would snag beside any work."""
    for span, floats in long_floats(plan).items():
        loose = {s: float_mm for s, float_mm in floats.items() if float_mm > LONG_LOOSE_MM}
        if not loose:
            continue
        one = len(loose) == 1
        far = centimetres(round(max(loose.values())))
        message = (
            f"{_names(plan, list(loose))} hang{'s' if one else ''} loose for {far} before this "
            f"step ties {'it' if one else 'them'} again."
        )
        hint = "Tie it in on the way, or write ‘space:’ where it is meant to hang free."
        yield _warning("LOOSE", span, message, hint)


def _floating(plan: Plan) -> Iterator[Problem]:
    """Name each strand with a float that is long for its cord and this work."""
    for span, floats in long_floats(plan).items():
        short = {s: float_mm for s, float_mm in floats.items() if float_mm <= LONG_LOOSE_MM}
        if not short:
            continue
        one = len(short) == 1
        message = (
            f"{_names(plan, list(short))} float{'s' if one else ''} for "
            f"{centimetres(round(max(short.values())))} before this step ties "
            f"{'it' if one else 'them'} again. That is long beside work "
            f"{centimetres(round(plan.width_mm))} wide: it shows and catches."
        )
        hint = "Tie it in on the way, or write ‘space:’ where it is meant to hang free."
        yield _warning("FLOAT", span, message, hint)


def _much_left(plan: Plan) -> Iterator[Problem]:
    """Name pieces folded in the middle of which more is left over than used."""
    for piece in pieces_of(plan):
        if len(piece.strands) != _PAIR or piece.fitted or piece.origin != "hung":
            continue
        used = [plan.ledgers[s].total_mm for s in piece.strands]
        needs = [plan.ledgers[s].total_mm + plan.tail_mm[s] for s in piece.strands]
        spare = max(needs) - min(needs)
        if spare > sum(used) / 2 and spare > _SPARE_MM:
            short = piece.strands[needs.index(min(needs))]
            cord = plan.project.cords[piece.cord]
            message = (
                f"{centimetres(round(spare))} of {strand_label(plan, short)} would be left over, "
                "because its other end uses far more."
            )
            hint = "Write ‘fold: fit’ for this cord, so that each end gets what it needs."
            yield _warning("LEFT-OVER", cord.span, message, hint)
            return


def _mirror_swaps(plan: Plan) -> Iterator[Problem]:
    """Name mirrored repeats in which cords of another thickness change roles."""
    seen: set[Span] = set()
    unmirrored: dict[int, tuple[float, ...]] = {}
    for step in plan.steps:
        key, widths = id(step.source), _widths(plan, step)
        if not step.mirrored:
            unmirrored.setdefault(key, widths)
            continue
        span = step.source.about.span
        other = unmirrored.get(key)
        if other is not None and other != widths and len(other) == len(widths) and span not in seen:
            seen.add(span)
            at = next(
                i for i, pair in enumerate(zip(other, widths, strict=True)) if len(set(pair)) > 1
            )
            message = (
                "Mirrored, this step would swap unequal cords: a strand of "
                f"{widths[at]:g} mm does what one of {other[at]:g} mm did."
            )
            hint = "Hang cords of equal thickness at the same distance from both sides."
            yield _warning("UNEQUAL", span, message, hint)


def _widths(plan: Plan, step: PlannedStep) -> tuple[float, ...]:
    """Return the diameters that a step meets in the order of its work; groups from its own left."""
    groups = [g[::-1] if step.mirrored and step.role != "row" else g for g in step.groups]
    cords = plan.project.cords
    return tuple(cords[plan.strands[s].cord].diameter_mm for group in groups for s in group)


def _size_missed(plan: Plan) -> Iterator[Problem]:
    """Yield a warning about a finished length that the work does not come to."""
    size = plan.project.size
    if size is None:
        return
    times = plan.repeats.get(size.vary)
    if times is not None and (times < size.least or (times - size.least) % size.step):
        ups = f", in steps of {size.step}" if size.step > 1 else ""
        message = f"{size.vary} is repeated {times} times, but the fewest is {size.least}{ups}."
        hint = "Make the repeats agree with least: and step:."
        yield _warning("REPEATS", size.span, message, hint)
    if size.length_mm and abs(plan.length_mm / size.length_mm - 1) > _OFF:
        message = (
            f"The size says {centimetres(round(size.length_mm))}, but the work as written comes to "
            f"about {centimetres(round(plan.length_mm))}."
        )
        yield _warning("SIZE", size.span, message, _nearer(plan, size.length_mm))


def _wish_missed(plan: Plan) -> Iterator[Problem]:
    """Yield a warning about a wished length that the repeats chosen for it do not come near."""
    size = plan.project.size
    if size is None or not size.wish_mm:
        return
    found = refitted_to_own_wish(plan)
    comes_mm = (found.plan if found else plan).length_mm
    if abs(comes_mm / size.wish_mm - 1) > _OFF:
        message = (
            f"The size aims for {centimetres(round(size.wish_mm))}, but the nearest this work "
            f"comes to is about {centimetres(round(comes_mm))}."
        )
        hint = other_lie(plan, size.wish_mm, _OFF) or (
            f"Aim for another length, or write a lower least: than {size.least}."
            if size.vary
            else "Write in vary: which part or named step may change."
        )
        yield _warning("SIZE", size.span, message, hint)


def _takes_contradicted(plan: Plan) -> Iterator[Problem]:
    """Yield a warning about times that the file's own counts contradict."""
    project = plan.project
    claims = [(project.takes_s, 0, plan.total, project.takes_span)] if project.takes_s else []
    claims += [
        (about.takes_s, step.first, step.end, about.span)
        for step in plan.steps
        if (about := step.source.about).takes_s and plan.counts[step.first].knot
    ]
    if not claims:
        return
    standard, seen = StandardTimes(plan), set[Span]()
    paces = initial_paces(STATED_SKILLS.get(project.skill, "practised"))
    for (least, most), first, end, span in claims:
        likely = expected_seconds(paces, standard.of(first, end))
        if least / _CONTRADICTED <= likely <= most * _CONTRADICTED or span in seen:
            continue
        seen.add(span)
        ties = sum(bool(count.knot) for count in plan.counts[first:end])
        whom = _WHOM.get(project.skill, "a practised maker")
        message = (
            f"takes: says {_range(least, most)}, but {ties} {'tie' if ties == 1 else 'ties'} and "
            f"what goes with {'it' if ties == 1 else 'them'} come to about {_time(likely)} "
            f"for {whom}."
        )
        hint = "Leave takes: out; the coach learns each maker's pace from her own counts."
        yield _warning("TAKES", span, message, hint)


def _tied_smaller(plan: Plan) -> Iterator[Problem]:
    """Yield a warning about open knots smaller than the same strands drawn up."""
    contact, seen = contact_mm(plan, plan.hands), set[Span]()
    for step in plan.steps:
        source = step.source
        if not isinstance(source, model.GroupKnot) or not source.size_mm:
            continue
        tight = bundle_size(source.knot, widths(step.groups[0], contact)).down_mm
        if source.size_mm < tight and source.about.span not in seen:
            seen.add(source.about.span)
            message = (
                f"{capital(an(source.knot))} of these strands is about {centimetres(round(tight))} "
                f"high when drawn up, so {centimetres(source.size_mm)} cannot be laid."
            )
            hint = "Write a larger size, or leave size: out."
            yield _warning("SIZE", source.about.span, message, hint)


def _range(least_s: float, most_s: float) -> str:
    return _time(least_s) if least_s == most_s else f"{_time(least_s)} to {_time(most_s)}"


def _time(seconds: float) -> str:
    """Return a time to the minute, or to the second below two minutes."""
    if seconds < 120:  # noqa: PLR2004 - two minutes
        return f"{seconds:.0f} s"
    hours, minutes = divmod(round(seconds / 60), 60)
    return " ".join(filter(None, (f"{hours} h" * bool(hours), f"{minutes} min" * bool(minutes))))


def _nearer(plan: Plan, length_mm: float) -> str:
    """Return the hint that would meet a length: how rows lie before how often they repeat."""
    lie = other_lie(plan, length_mm, _OFF)
    if lie:
        return lie
    try:
        return to_length(plan.project, length_mm).changed + "."
    except CannotRefit:
        return "Change the repeats, or measure the piece again."
