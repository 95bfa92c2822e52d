"""A project changed to another size: other repeats, other cords, another length."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from typing import Final

from coach.plan.compile.compiler import compile_project
from coach.plan.plan_model import Plan
from coach.plan.resize.nearest_length import CLOSE_MM, NotLonger, nearest_repeats
from coach.plan.resize.size_request import Wish
from coach.plan.resize.varying import Call, calls, steps_of, with_steps_edited, with_times
from coach.plan.tension import NOMINAL, Hands
from coach.project import model
from coach.text import one_line, repeats_of

_MOST_TURNS: Final = 60
_MOST_REPEATS: Final = 100_000
_TOO_MANY: Final = "No number of repeats that could be knotted reaches that length."
_LONG: Final = (model.Space, model.Gathering, model.Braid)


class CannotRefit(Exception):
    """A change that this project cannot meet; the text says what would be possible."""


@dataclass(frozen=True, slots=True)
class Refitted:
    """A project at another size, its plan, and the changes, in words and as a wish."""

    plan: Plan
    changed: str
    wish: Wish


def as_wished(project: model.Project, wish: Wish) -> model.Project:
    """Return a project with all the changes of a wish. Raises CannotRefit."""
    if wish.cords:
        project = with_cords(project, wish.cords)
    for part, times in wish.repeats.items():
        project = with_repeats_of(project, part, times)
    for name, times in wish.times.items():
        project = with_times(project, name, times)
    for name, length_mm in wish.lengths.items():
        project = _lengthened(project, name, length_mm)
    return with_colours(project, wish.colours) if wish.colours else project


def with_colours(project: model.Project, colours: Mapping[str, str]) -> model.Project:
    """Return a project with some of its cords in other colours.

    Args:
        project: The project.
        colours: `#rrggbb` by cord.
    """
    cords = {
        name: replace(cord, colour=colours[name], colour_name="") if name in colours else cord
        for name, cord in project.cords.items()
    }
    return replace(project, cords=cords)


def with_cords(project: model.Project, diameters_mm: Mapping[str, float]) -> model.Project:
    """Return a project in cords of other thickness. Raises CannotRefit.

    Args:
        project: The project.
        diameters_mm: Diameters by cord; the name "" stands for all cords.
    """
    unknown = [name for name in diameters_mm if name and name not in project.cords]
    if unknown:
        known = ", ".join(project.cords)
        raise CannotRefit(
            f"There is no cord ‘{one_line(unknown[0])}’ in this project; it has {known}."
        )
    cords = {
        name: _as_thick(cord, diameters_mm.get(name, diameters_mm.get("", cord.diameter_mm)))
        for name, cord in project.cords.items()
    }
    # A swatch or measured part speaks of the cord that it was made in.
    changed = {n for n, cord in cords.items() if cord.diameter_mm != project.cords[n].diameter_mm}
    measured = tuple(m for m in project.measured if not _speaks_of(m, changed))
    return replace(project, cords=cords, measured=measured)


def _as_thick(cord: model.Cord, diameter_mm: float) -> model.Cord:
    """Return a cord of another thickness; if it changes, its weight becomes unknown."""
    if diameter_mm == cord.diameter_mm:
        return cord
    return replace(cord, diameter_mm=diameter_mm, fineness_tex=None, estimated=False)


def _speaks_of(measured: model.MeasuredPart | model.Swatch, cords: set[str]) -> bool:
    if isinstance(measured, model.Swatch):
        return measured.cord in cords
    return bool(cords.intersection(measured.uses_mm) or (cords and measured.length_mm))


def with_repeats_of(project: model.Project, part: str, times: int) -> model.Project:
    """Return a project in which every call of a part has `times` repeats.

    Args:
        project: The project.
        part: The name of a part.
        times: How often each call of it makes it, 1 at least.

    Raises:
        CannotRefit: There is no such part, or it cannot be repeated that many times.
    """
    if part not in project.parts:
        known = ", ".join(project.parts) or "none"
        raise CannotRefit(
            f"There is no part ‘{one_line(part)}’ to repeat; the project's parts: {known}."
        )
    if times < 1:
        raise CannotRefit(f"{part} cannot be repeated {times} times; 1 is the least.")

    return with_times(project, part, times)


def recompiled(project: model.Project, hands: Hands = NOMINAL) -> Plan:
    """Compile a changed project. Raises CannotRefit when that has errors."""
    compiled = compile_project(project, hands)
    if compiled.plan is None:
        raise CannotRefit(f"That cannot be made: {compiled.problems[0].message}")
    return compiled.plan


def to_length(project: model.Project, length_mm: float, hands: Hands = NOMINAL) -> Refitted:
    """Return the project as near to a finished length as what it varies allows.

    Repeats, or the times of a named step, are tried in the project's own steps, never below its
    least; a named step with a length is given the length that is missing.

    Args:
        project: The project as it is read.
        length_mm: The finished length that is wished for, in mm.
        hands: The maker's, where they are known.

    Returns:
        The project refitted, its plan, and in words what was changed.

    Raises:
        CannotRefit: Nothing in it varies, or its length cannot be come near to.
    """
    vary = project.size.vary if project.size else ""
    if not vary:
        raise CannotRefit(
            "This project does not say what may change: write size: {vary: a part} in its file, "
            "or choose the repeats yourself."
        )
    if vary in project.parts:
        now = next((call.times for call in calls(project, vary)), 1)
        return _by_number(project, length_mm, now, lambda n: Wish(repeats={vary: n}), hands)
    step = _named(project, vary)
    if isinstance(step, _LONG) and step.length_mm is not None:
        return _by_length(project, length_mm, (vary, step.length_mm), hands)
    if isinstance(step, Call):
        return _by_number(project, length_mm, step.times, lambda n: Wish(times={vary: n}), hands)
    raise CannotRefit(f"The step ‘{vary}’ has neither times nor a length that could change.")


def _named(project: model.Project, name: str) -> model.Step:
    found = next((step for step in steps_of(project) if step.about.name == name), None)
    if found is None:
        raise CannotRefit(f"There is no step named ‘{one_line(name)}’.")
    return found


def _by_number(
    project: model.Project,
    length_mm: float,
    now: int,
    wish: Callable[[int], Wish],
    hands: Hands,
) -> Refitted:
    """Return the project refitted by the number whose length is nearest, within its bounds."""
    size = project.size
    least, step = (size.least, size.step) if size else (1, 1)
    plans: dict[int, Plan] = {}

    def length_of(steps: int) -> float | None:
        number = now + steps * step
        if number < min(least, now):
            return None
        plans[steps] = _plan_with(project, number, now, wish, hands)
        return plans[steps].length_mm

    try:
        found = nearest_repeats(length_of, length_mm)
    except NotLonger:
        raise CannotRefit("More repeats do not make this piece longer.") from None
    number = now + found.steps * step
    if not found.reaches(length_mm):
        made = f"{found.length_mm / 10:.1f} cm"
        raise CannotRefit(f"That is shorter than its least, {number}, makes: {made}.")
    vary = size.vary if size else ""
    return Refitted(
        plans[found.steps], f"{repeats_of(number, vary)} instead of {now}", wish(number)
    )


def _plan_with(
    project: model.Project, number: int, now: int, wish: Callable[[int], Wish], hands: Hands
) -> Plan:
    """Return the plan with a number of repeats. Raises CannotRefit where that is too many."""
    if number > _MOST_REPEATS:
        raise CannotRefit(_TOO_MANY)
    try:
        return recompiled(as_wished(project, wish(number)), hands)
    except CannotRefit as error:
        raise CannotRefit(_TOO_MANY if number > now else str(error)) from error


def _by_length(
    project: model.Project, length_mm: float, step: tuple[str, float], hands: Hands
) -> Refitted:
    """Return the project refitted by the length of a named step."""
    name, before = step
    own, plan = before, recompiled(project, hands)
    for _ in range(_MOST_TURNS):
        missing = length_mm - plan.length_mm
        if abs(missing) < CLOSE_MM:
            break
        own += missing
        if own < 0:
            shortest = recompiled(_lengthened(project, name, 0.0), hands).length_mm
            raise CannotRefit(
                f"Without {name} it is {shortest / 10:.1f} cm long; that is its least."
            )
        plan = recompiled(_lengthened(project, name, own), hands)
    changed = f"{name} {own / 10:.1f} cm long instead of {before / 10:.1f} cm"
    return Refitted(plan, changed, Wish(lengths={name: own}))


def _lengthened(project: model.Project, name: str, length_mm: float) -> model.Project:
    def lengthened(step: model.Step) -> model.Step:
        if step.about.name == name and isinstance(step, _LONG):
            return replace(step, length_mm=length_mm)
        return step

    return with_steps_edited(project, lengthened)
