"""Which repeats of a project may be made more or less often, and the project with other ones."""

from collections.abc import Sequence
from dataclasses import replace
from typing import TypeAlias

from coach.piece.events import Fitted, Happening, Repeats
from coach.plan.cord.cut_list import varied
from coach.plan.resize.refit import CannotRefit, as_wished, edited
from coach.plan.resize.size_request import Wish
from coach.project import model

Call: TypeAlias = model.Use | model.Row | model.GroupKnot | model.AroundKnot
"""A step that is made so many times."""


class CannotFollow(Exception):
    """Something that cannot be so on this piece; the text says what would be possible."""


def part_varied(project: model.Project) -> str:
    """Return the part, or the named step, whose repeats may change. Raises CannotFollow."""
    named = project.size.vary if project.size else ""
    part = varied(project) or named
    if part and calls(project, part):
        return part
    raise CannotFollow(
        "This project does not say what may be repeated more or less often; "
        "size: {vary: a part} in its file would."
    )


def by_repeats(project: model.Project, part: str) -> int:
    """Return by how many repeats a part goes up and down: a mirrored pair stays a pair."""
    size = project.size
    step = size.step if size and size.vary == part else 1
    pairs = any(isinstance(s, model.Use) and s.mirror == "every second"
                for s in calls(project, part))  # fmt: skip
    return max(2, step) if pairs else step


def as_repeated(project: model.Project, happenings: Sequence[Happening]) -> model.Project:
    """Return the project with the repeats that the happenings have changed, itself without any."""
    for happening in happenings:
        if isinstance(happening, Repeats):
            project = _with_times(project, happening)
    return project


def as_fitted(project: model.Project, happenings: Sequence[Happening]) -> model.Project:
    """Return the project as it was fitted before the first count, itself where it was not.

    Raises:
        CannotFollow: It cannot be fitted so any more.
    """
    for happening in happenings:
        if isinstance(happening, Fitted):
            project = _fitted(project, happening)
    return project


def unmet(project: model.Project, happenings: Sequence[Happening]) -> list[str]:
    """Return what a piece was fitted in and a project has not: names of parts, cords and steps."""
    steps: set[str] = set()

    def look(step: model.Step) -> model.Step:
        steps.add(step.about.name)
        return step

    edited(project, look)
    found: list[str] = []
    for wish in (Wish.from_data(h.wish) for h in happenings if isinstance(h, Fitted)):
        found += [part for part in wish.repeats if part not in project.parts]
        found += [cord for cord in wish.cords if cord not in ("", *project.cords)]
        found += [step for step in (*wish.times, *wish.lengths) if step not in steps]
    return found


def _fitted(project: model.Project, fitted: Fitted) -> model.Project:
    """Return the project as it was fitted; what an edited one has no more needs no fitting."""
    try:
        wish = Wish.from_data(fitted.wish)
        repeats = {part: n for part, n in wish.repeats.items() if part in project.parts}
        cords = {cord: mm for cord, mm in wish.cords.items() if cord in ("", *project.cords)}
        return as_wished(project, replace(wish, repeats=repeats, cords=cords))
    except (CannotRefit, ValueError) as error:
        raise CannotFollow(f"The piece was fitted otherwise: {error}") from error


def calls(project: model.Project, part: str) -> list[Call]:
    """Return every step that repeats a part or is named so, in the order in which it is edited."""
    found: list[Call] = []

    def look(step: model.Step) -> model.Step:
        call = _call(step, part)
        if call:
            found.append(call)
        return step

    edited(project, look)
    return found


def _call(step: model.Step, part: str) -> Call | None:
    if isinstance(step, model.Use) and part in (step.part, step.about.name):
        return step
    timed = isinstance(step, model.Row | model.GroupKnot | model.AroundKnot)
    return step if timed and step.about.name == part else None  # type: ignore[return-value]  # timed says so


def _with_times(project: model.Project, repeats: Repeats) -> model.Project:
    seen = 0

    def repeated(step: model.Step) -> model.Step:
        nonlocal seen
        call = _call(step, repeats.part)
        if not call:
            return step
        seen += 1
        return replace(call, times=repeats.times) if seen - 1 == repeats.call else step

    return edited(project, repeated)
