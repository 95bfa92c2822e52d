"""A project becomes a plan, or a list of what nobody could do."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace

from coach.knots.geometry import COMPRESSION
from coach.plan.calibrate import Calibration, from_swatches, with_parts
from coach.plan.cordwork import Cordwork
from coach.plan.expand import too_much
from coach.plan.hanging import mountings
from coach.plan.measure import Measuring
from coach.plan.model import Plan
from coach.plan.roster import Roster, hang_start
from coach.plan.tails import tails
from coach.plan.unfold import Lost, Unfolding
from coach.project import model
from coach.project.problems import Problem, Problems


@dataclass(frozen=True, slots=True)
class Compiled:
    """The plan, or None where there are errors; and every problem found on the board."""

    plan: Plan | None
    problems: tuple[Problem, ...]


def compile_project(project: model.Project, compression: float = COMPRESSION) -> Compiled:
    """Simulate a project's strands from the first count to the last.

    `compression` is contact diameter / nominal diameter of the cords. Errors are gathered as far
    as the strands can be followed; a plan is only given when there are none.
    """
    problems = Problems()
    bomb = too_much(project, _hung_strands(project))
    if bomb:
        return Compiled(None, (bomb,))
    roster = Roster(project.cords)
    order = hang_start(project.start, roster)
    unfolding = Unfolding(project, roster, problems)
    try:
        unfolding.walk_middles(_middles(project, roster))
        finish = unfolding.walk_work(order).whole
    except Lost:
        return Compiled(None, problems.sorted())
    if not (problems.errors or unfolding.unread):
        _check_pieces(project, roster, problems)
        _check_work(project, unfolding, problems)
    if problems.errors or not unfolding.counts:
        return Compiled(None, problems.sorted())
    return Compiled(_measured(unfolding, order, finish, compression), problems.sorted())


def _hung_strands(project: model.Project) -> int:
    if project.start.layout == "strands":
        return len(project.start.pieces)
    return sum(1 if project.cords[p.cord].fold == "none" else 2 for p in project.start.pieces)


def _middles(project: model.Project, roster: Roster) -> tuple[int, ...]:
    """Give each piece's strand a, pieces in the order in which the start names them."""
    ends = [number for number, strand in enumerate(roster.strands) if strand.end == "a"]
    if project.start.layout != "strands":
        return tuple(ends)
    named = [(piece.cord, piece.number or 1) for piece in project.start.pieces]
    return tuple(
        sorted(ends, key=lambda e: named.index((roster.strands[e].cord, roster.strands[e].piece)))
    )


def _check_pieces(project: model.Project, roster: Roster, problems: Problems) -> None:
    """Hold the pieces that the work uses against the number the file gives."""
    hung: Counter[str] = Counter()
    cut: Counter[str] = Counter()
    for strand in roster.strands:
        if strand.end == "a":
            cut[strand.cord] += 1
            hung[strand.cord] += strand.origin in ("hung", "added")
    for cord in project.cords.values():
        if cord.pieces is not None and cord.pieces not in (hung[cord.id], cut[cord.id]):
            message = f"{cord.id} has pieces: {cord.pieces}, but {cut[cord.id]} are hung or wrapped"
            problems.error("PIECES", cord.span, message, f"pieces: {cut[cord.id]}")


def _check_work(project: model.Project, unfolding: Unfolding, problems: Problems) -> None:
    if not unfolding.counts:
        problems.error("EMPTY", project.start.span, "there is no work to do", "write steps in work")


def _measured(
    unfolding: Unfolding, order: tuple[int, ...], finish: tuple[int, ...], compression: float
) -> Plan:
    """Give the plan with cord and size; measured parts take a second pass."""
    project = unfolding.project
    calibration = from_swatches(project)
    work = _measure(unfolding, order, compression, calibration)
    if any(isinstance(measured, model.MeasuredPart) for measured in project.measured):
        calibration = with_parts(calibration, project, unfolding.steps, work)
        work = _measure(unfolding, order, compression, calibration)
    plan = Plan(
        project=project,
        strands=tuple(unfolding.roster.strands),
        start=order,
        finish=finish,
        steps=tuple(unfolding.steps),
        counts=tuple(unfolding.counts),
        ledgers=work.ledgers(unfolding.counts),
        tail_mm=(),
        height_mm=tuple(work.heights),
        width_mm=work.width_mm,
        repeats=_repeats(project),
    )
    return replace(plan, tail_mm=tails(plan))


def _measure(
    unfolding: Unfolding, order: tuple[int, ...], compression: float, calibration: Calibration
) -> Cordwork:
    roster, project = unfolding.roster, unfolding.project
    contact = [project.cords[s.cord].diameter_mm * compression for s in roster.strands]
    work = Cordwork(roster.strands, contact, closed=project.start.closed)
    for place, strand in enumerate(order):
        work.place[strand] = place
    _hang(work, project.start, roster)
    Measuring(work, calibration).all(unfolding.steps, unfolding.counts)
    return work


def _hang(work: Cordwork, start: model.Start, roster: Roster) -> None:
    """Give the strands the width that their mounting has."""
    firsts = [n for n, s in enumerate(roster.strands) if s.end == "a" and s.origin == "hung"]
    hung = mountings(start, [work.contact_mm[first] for first in firsts])
    for first, mounting in zip(firsts, hung, strict=True):
        if not roster.strands[first].single:
            work.spread((first, first + 1), mounting.width_mm)


def _repeats(project: model.Project) -> dict[str, int]:
    """Give how often the file repeats each part."""
    repeats: Counter[str] = Counter()

    def look(steps: Sequence[model.Step]) -> None:
        for step in steps:
            if isinstance(step, model.Use):
                repeats[step.part] += step.times
            elif isinstance(step, model.Each):
                look(step.steps)

    look(project.work)
    for steps in project.parts.values():
        look(steps)
    return dict(repeats)
