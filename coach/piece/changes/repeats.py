"""The repeats of a project that may change under way, and the project with other ones."""

from collections.abc import Sequence
from dataclasses import replace
from types import MappingProxyType
from typing import Final

from coach.piece.events import Chosen, Fitted, Happening, Repeats
from coach.plan.resize.refit import CannotRefit, as_wished
from coach.plan.resize.size_request import Wish
from coach.plan.resize.varying import calls, steps_of, varied_part, with_times
from coach.project import model

_OPEN: Final = ("times", "turns", "length", "knotter")


class CannotFollow(Exception):
    """A change that is impossible on this piece; the text says what would be possible."""


def part_varied(project: model.Project) -> str:
    """Return the part, or the named step, whose repeats may change. Raises CannotFollow."""
    named = project.size.vary if project.size else ""
    part = varied_part(project) or named
    if part and calls(project, part):
        return part
    raise CannotFollow(
        "This project does not say what may be repeated more or less often; "
        "size: {vary: a part} in its file would."
    )


def as_repeated(project: model.Project, happenings: Sequence[Happening]) -> model.Project:
    """Return the project with the repeats and choices of the happenings put in.

    Without any it is the project itself.
    """
    chosen: dict[int, model.Choice] = {}
    for happening in happenings:
        if isinstance(happening, Repeats):
            project = with_times(project, happening.part, happening.times, happening.call)
        elif isinstance(happening, Chosen):
            what = next((one for one in _OPEN if one == happening.what), None)
            if what:
                chosen[happening.step] = model.Choice(what, happening.value)
    return replace(project, chosen=MappingProxyType(chosen)) if chosen else project


def as_fitted(project: model.Project, happenings: Sequence[Happening]) -> model.Project:
    """Return the project as it was fitted before the first count, itself if it was not.

    Raises:
        CannotFollow: It can no longer be fitted to that wish.
    """
    for happening in happenings:
        if isinstance(happening, Fitted):
            project = _fitted(project, happening)
    return project


def unmet(project: model.Project, happenings: Sequence[Happening]) -> list[str]:
    """Return the names of parts, cords and steps that a fit mentions and a project lacks."""
    steps = {step.about.name for step in steps_of(project)}
    found: list[str] = []
    for wish in (Wish.from_data(h.wish) for h in happenings if isinstance(h, Fitted)):
        found += [part for part in wish.repeats if part not in project.parts]
        found += [cord for cord in wish.cords if cord not in ("", *project.cords)]
        found += [step for step in (*wish.times, *wish.lengths) if step not in steps]
    return found


def _fitted(project: model.Project, fitted: Fitted) -> model.Project:
    """Return the project as it was fitted; a part that an edited one lacks needs no fitting."""
    try:
        wish = Wish.from_data(fitted.wish)
        repeats = {part: n for part, n in wish.repeats.items() if part in project.parts}
        cords = {cord: mm for cord, mm in wish.cords.items() if cord in ("", *project.cords)}
        return as_wished(project, replace(wish, repeats=repeats, cords=cords))
    except (CannotRefit, ValueError) as error:
        raise CannotFollow(f"The piece was fitted another way: {error}") from error
