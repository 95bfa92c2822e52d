"""What of a project can be made more or less often, and the project with it so."""

from collections.abc import Callable
from dataclasses import replace
from itertools import count
from typing import TypeAlias

from coach.project import model

Call: TypeAlias = model.Use | model.Row | model.GroupKnot | model.AroundKnot
"""A step that is made so many times."""


def edited(project: model.Project, edit: Callable[[model.Step], model.Step]) -> model.Project:
    """Return a project with every step edited, in groups and parts too; pieces count anew."""

    def deep(step: model.Step) -> model.Step:
        step = edit(step)
        if isinstance(step, model.Each):
            return replace(step, steps=tuple(map(deep, step.steps)))
        return step

    parts = {name: tuple(map(deep, steps)) for name, steps in project.parts.items()}
    cords = {name: replace(cord, pieces=None) for name, cord in project.cords.items()}
    work = tuple(map(deep, project.work))
    apart = {
        name: replace(one, work=tuple(map(deep, one.work))) for name, one in project.apart.items()
    }
    return replace(project, work=work, parts=parts, cords=cords, apart=apart)


def steps_of(project: model.Project) -> list[model.Step]:
    """Return every step as it is written, in the order in which they are edited."""
    found: list[model.Step] = []

    def look(step: model.Step) -> model.Step:
        found.append(step)
        return step

    edited(project, look)
    return found


def calls(project: model.Project, name: str) -> list[Call]:
    """Return every step that repeats a part or is named so, in the order in which it is edited."""
    return [call for step in steps_of(project) if (call := _call(step, name))]


def _call(step: model.Step, name: str) -> Call | None:
    if isinstance(step, model.Use) and name in (step.part, step.about.name):
        return step
    if isinstance(step, model.Row | model.GroupKnot | model.AroundKnot):
        return step if step.about.name == name else None
    return None


def with_times(
    project: model.Project, name: str, times: int, call: int | None = None
) -> model.Project:
    """Return a project in which a part, or a step of that name, is made so many times.

    All its calls are, or that one alone which `call` is the number of, in the order of `calls`.
    """
    seen = count()
    return _timed(project, name, lambda now: times if call in (None, next(seen)) else now)


def with_more(project: model.Project, name: str, more: int) -> model.Project:
    """Return a project in which each call of a part is made so many times more.

    Args:
        project: The project.
        name: The name of the part.
        more: Repeats that come to those of each call; below 0 for fewer.
    """
    return _timed(project, name, lambda now: now + more)


def _timed(project: model.Project, name: str, times: Callable[[int], int]) -> model.Project:
    """Return a project in which the calls of a part are made as often as follows from now."""

    def timed(step: model.Step) -> model.Step:
        found = _call(step, name)
        return replace(found, times=times(found.times)) if found else step

    return edited(project, timed)


def varied(project: model.Project) -> str:
    """Return the part whose repeats change the length: as the file says, or its only repeat."""
    if project.size and project.size.vary in project.parts:
        return project.size.vary
    repeated = [s.part for s in project.work if isinstance(s, model.Use) and s.times > 1]
    return repeated[0] if len(repeated) == 1 else ""


def by_repeats(project: model.Project, part: str) -> int:
    """Return by how many repeats a part goes up and down: a mirrored pair stays a pair."""
    size = project.size
    step = size.step if size and size.vary == part else 1
    pairs = any(isinstance(s, model.Use) and s.mirror == "every second"
                for s in calls(project, part))  # fmt: skip
    return max(2, step) if pairs else step
