"""Changing how often parts and steps of a project are repeated."""

from collections.abc import Callable
from dataclasses import replace
from itertools import count
from typing import TypeAlias

from coach.project import model

Call: TypeAlias = model.Use | model.Row | model.GroupKnot | model.AroundKnot
"""A step that is made so many times."""


def with_steps_edited(
    project: model.Project, edit: Callable[[model.Step], model.Step]
) -> model.Project:
    """Return a project with an edit applied to every step, in groups and parts too.

    The stated number of pieces is counted anew.
    """

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
    """Return every step of a project, in the order in which `edited` visits them."""
    found: list[model.Step] = []

    def look(step: model.Step) -> model.Step:
        found.append(step)
        return step

    with_steps_edited(project, look)
    return found


def calls(project: model.Project, name: str) -> list[Call]:
    """Return every step that repeats a part or has that name, in the order of `edited`."""
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
    """Return a project in which a part, or a step of that name, is repeated `times` times.

    Args:
        project: The project.
        name: The name of the part or the step.
        times: How often it is repeated.
        call: The index in `calls` of the only one to change; None for all of them.
    """
    seen = count()
    return _timed(project, name, lambda now: times if call in (None, next(seen)) else now)


def with_more(project: model.Project, name: str, more: int) -> model.Project:
    """Return a project in which each call of a part has more repeats, or fewer.

    Args:
        project: The project.
        name: The name of the part.
        more: How many to add to each call; below 0 for fewer.
    """
    return _timed(project, name, lambda now: now + more)


def _timed(project: model.Project, name: str, times: Callable[[int], int]) -> model.Project:
    """Return a project in which the repeats of a part are a function of those before."""

    def timed(step: model.Step) -> model.Step:
        found = _call(step, name)
        return replace(found, times=times(found.times)) if found else step

    return with_steps_edited(project, timed)


def varied_part(project: model.Project) -> str:
    """Return the part whose repeats set the length: the one the file names, or the only one."""
    if project.size and project.size.vary in project.parts:
        return project.size.vary
    repeated = [s.part for s in project.work if isinstance(s, model.Use) and s.times > 1]
    return repeated[0] if len(repeated) == 1 else ""


def by_repeats(project: model.Project, part: str) -> int:
    """Return the step by which a part's repeats change: 2 for mirrored pairs, else 1."""
    size = project.size
    step = size.step if size and size.vary == part else 1
    pairs = any(isinstance(s, model.Use) and s.mirror == "every second"
                for s in calls(project, part))  # fmt: skip
    return max(2, step) if pairs else step
