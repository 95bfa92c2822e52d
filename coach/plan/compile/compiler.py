"""The compiler: from a project to a plan, or to the problems that prevent one."""

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from coach.plan.compile.checks import folded_too_far
from coach.plan.compile.limits import too_much
from coach.plan.compile.open_choices import longest_expected
from coach.plan.compile.side_boards import made_later
from coach.plan.compile.strands import Roster, hang_start
from coach.plan.compile.walker import Lost, Unfolding
from coach.plan.plan_model import Plan
from coach.plan.tension import NOMINAL, Hands, usual_hands
from coach.project import model
from coach.yaml_reader.collector import quoted
from coach.yaml_reader.diagnostics import Problem, Problems

_PASSES = 3  # a strand that has tied once has less left for the next time


@dataclass(frozen=True, slots=True)
class Compiled:
    """The result of compiling: the plan, None if there are errors, and all problems found."""

    plan: Plan | None
    problems: tuple[Problem, ...]


def compile_project(project: model.Project, hands: Hands = NOMINAL) -> Compiled:
    """Simulate a project's strands from the first count to the last.

    Errors are collected as far as the strands can be followed. Where the longest strand is to tie,
    the plan is compiled a second time, once it is known which one that is.

    Args:
        project: The project.
        hands: The maker's compression and slack; a cord that they lack gives as its fibre usually
            does.
    """
    compiled = _compiled(project, hands, {})
    expected: dict[int, int] = {}
    # Letting another strand tie may make yet another one the longest; in practice that settles.
    for _ in range(_PASSES):
        found = longest_expected(compiled.plan) if compiled.plan else expected
        if found == expected:
            break
        expected = found
        compiled = _compiled(project, hands, expected)
    return compiled


def _compiled(project: model.Project, hands: Hands, expected: Mapping[int, int]) -> Compiled:
    problems = Problems()
    # Estimated before anything is built, or a few lines of YAML could fill the memory.
    bomb = too_much(project, _hung_strands(project))
    if bomb:
        return Compiled(None, (bomb,))
    roster = Roster(project.cords)
    order = hang_start(project.start, roster)
    unfolding = Unfolding(project, roster, problems, expected)
    try:
        later = made_later(project)
        finish = unfolding.walk_work(order, [n for n in project.apart if n not in later]).whole
    except Lost:
        return Compiled(None, problems.sorted())
    if not (problems.errors or unfolding.unread):
        _check_pieces(project, roster, problems)
        _check_work(project, unfolding, problems)
    # Reported together with what the walk found, so that one run tells everything.
    if problems.errors or not unfolding.counts:
        return Compiled(None, problems.sorted())
    plan = Plan(
        project=project,
        strands=tuple(roster.strands),
        start=order,
        finish=finish,
        steps=tuple(unfolding.steps),
        counts=tuple(unfolding.counts),
        repeats=_repeats(project),
        hands=usual_hands(project, hands),
        sections=tuple(unfolding.boards.sections[: _sections(unfolding)]),
    )
    if any(isinstance(step.source, model.FoldBack) for step in plan.steps):
        for problem in folded_too_far(plan):
            problems.put(problem)
    return Compiled(None if problems.errors else plan, problems.sorted())


def _sections(unfolding: Unfolding) -> int:
    """Return how many sections the work has, 0 where it is all on one board."""
    sections = len(unfolding.boards.sections)
    return sections if sections > 1 else 0


def _hung_strands(project: model.Project) -> int:
    """Return how many strands hang at all starts, those of parts made apart for each copy."""
    apart = sum(one.make * _hung_at(project, one.start) for one in project.apart.values())
    return apart + _hung_at(project, project.start)


def _hung_at(project: model.Project, start: model.Start) -> int:
    if start.layout == "strands":
        return len(start.pieces)
    return sum(1 if project.cords[p.cord].fold == "none" else 2 for p in start.pieces)


def _check_pieces(project: model.Project, roster: Roster, problems: Problems) -> None:
    """Compare the pieces that the work uses with the number that the file states."""
    hung: Counter[str] = Counter()
    cut: Counter[str] = Counter()
    for strand in roster.strands:
        if strand.end == "a":
            cut[strand.cord] += 1
            hung[strand.cord] += strand.origin in ("hung", "added")
    doubtful = project.start.doubtful.union(*(a.start.doubtful for a in project.apart.values()))
    for cord in project.cords.values():
        if cord.pieces in (None, hung[cord.id], cut[cord.id]) or cord.id in doubtful:
            continue
        used = cut[cord.id]
        message = f"‘pieces’ says {cord.pieces}, but the work uses {used} of {quoted(cord.id)}."
        hint = f"Write ‘pieces: {used}’, or leave it out." if used else "Hang it, or leave it out."
        problems.error("PIECES", cord.span, message, hint)


def _check_work(project: model.Project, unfolding: Unfolding, problems: Problems) -> None:
    if not unfolding.counts:
        problems.error(
            "EMPTY", project.start.span, "There is no work to do.", "Write steps under ‘work’."
        )


def _repeats(project: model.Project) -> dict[str, int]:
    """Return how often the file repeats each part, by name."""
    repeats: Counter[str] = Counter()

    def look(steps: Sequence[model.Step]) -> None:
        for step in steps:
            if isinstance(step, model.Use):
                repeats[step.part] += step.times
            elif isinstance(step, model.Each):
                look(step.steps)

    look(project.work)
    for one in project.apart.values():
        look(one.work)
    for steps in project.parts.values():
        look(steps)
    return dict(repeats)
