"""The options for another size: length, repeats, cords, a body's measure."""

import argparse
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import Final, TypeVar

from coach.orders.batch import MOST_COPIES
from coach.plan.plan_model import Plan
from coach.plan.resize.body_sizes import BODIES, body, finished_mm
from coach.plan.resize.own_wish import refitted_to_own_wish
from coach.plan.resize.refit import CannotRefit, as_wished, recompiled, to_length
from coach.plan.resize.size_request import Wish
from coach.project.model import Project
from coach.quantities import QuantityError, length_mm, show_length

T = TypeVar("T")
KEEPS: Final = (
    "A piece you have started keeps its size and colours; press o on the bench to change its "
    "repeats."
)


@dataclass(frozen=True, slots=True)
class RefitRequest:
    """The plan with the changes, the wish, and the changes in words."""

    plan: Plan
    wish: Wish = field(default_factory=Wish)
    changes: tuple[str, ...] = ()


def asks_for_size(options: argparse.Namespace) -> bool:
    """Return whether a call asks for another size."""
    girths = any(getattr(options, measure.name) for measure in BODIES)
    return bool(girths or options.length or options.repeats or options.cord)


def add_size_options(parser: argparse.ArgumentParser) -> None:
    """Add the options for another size."""
    size = parser.add_argument_group("to another size")
    size.add_argument("--length", metavar="LENGTH", help="the finished length, such as '17 cm'")
    size.add_argument(
        "--repeats", metavar="PART=NUMBER", action="append", default=[],
        help="how many times to work a part, such as wave=8",
    )  # fmt: skip
    size.add_argument(
        "--cord", metavar="[CORD=]DIAMETER", action="append", default=[],
        help="in another cord, such as 1.5mm or reed=1.5mm",
    )  # fmt: skip
    for name in (measure.name for measure in BODIES):
        whom = f"{'an' if name == 'ankle' else 'a'} {name}"
        size.add_argument(
            f"--{name}", metavar="GIRTH",
            help=f"to fit {whom}, with the usual ease (see coach sizes)",
        )  # fmt: skip
    size.add_argument("--ease", metavar="LENGTH", help="a different ease")


def cords_wished(options: argparse.Namespace) -> Wish | None:
    """Return the wish for cords of other diameters, if there is one. Raises CannotRefit."""
    diameters = _diameters(options)
    return Wish(cords=diameters) if diameters else None


def _diameters(options: argparse.Namespace) -> dict[str, float]:
    return dict(_named(text, "--cord", _diameter) for text in options.cord)


def refit_as_asked(plan: Plan, options: argparse.Namespace) -> RefitRequest:
    """Return the plan changed by the options. Raises CannotRefit with what is possible."""
    diameters = _diameters(options)
    repeats = dict(_named(text, "--repeats", _number) for text in options.repeats)
    wish = Wish(repeats=repeats, cords=diameters)
    changes = [f"{name or 'all cords'}: {mm:g} mm" for name, mm in diameters.items()]
    changes += [f"{part}: {times} repeats" for part, times in repeats.items()]
    project = as_wished(plan.project, wish)
    goal = _goal(project, options)
    if not goal and not repeats:
        return _aimed(recompiled(project, plan.hands) if wish else plan, wish, changes)
    if goal:
        refitted = to_length(project, goal[0], plan.hands)
        told = f"{goal[1]}; {refitted.changed}, about {show_length(refitted.plan.length_mm)}"
        return RefitRequest(refitted.plan, wish.also(refitted.wish), (*changes, told))
    return RefitRequest(recompiled(project, plan.hands) if wish else plan, wish, tuple(changes))


def _aimed(plan: Plan, wish: Wish, changes: Sequence[str]) -> RefitRequest:
    """Return a plan fitted to its own file's wish, if no option asks for anything else."""
    found = refitted_to_own_wish(plan)
    if found is None:
        return RefitRequest(plan, wish, tuple(changes))
    gives = f"{found.changed}, about {show_length(found.plan.length_mm)}"
    told = f"for the length that the file aims for, {gives}"
    return RefitRequest(found.plan, wish.also(found.wish), (*changes, told))


def _goal(project: Project, options: argparse.Namespace) -> tuple[float, str] | None:
    """Return the finished length asked for, in mm, and its reason."""
    girths = [(b.name, getattr(options, b.name)) for b in BODIES if getattr(options, b.name)]
    if len(girths) + bool(options.length) > 1:
        raise CannotRefit("Ask for one length or one body measure, not both.")
    if options.length:
        wish = _length(options.length, "--length")
        if wish <= 0:
            raise CannotRefit("A finished piece has a length: ask for more than zero.")
        return wish, f"for {show_length(wish)}"
    if not girths:
        return None
    name, text = girths[0]
    measure, girth = body(name), _length(text, f"--{name}")
    ease = _length(options.ease, "--ease") if options.ease else measure.ease_mm
    total = finished_mm(project, measure, girth, ease)
    closing = total - girth - ease
    also = f" and {show_length(closing)} to close it" if closing else ""
    fit = f"with {show_length(ease)} of ease ({measure.worn})"
    return total, f"for a {name} of {show_length(girth)} {fit}{also}"


def _named(text: str, option: str, read: Callable[[str, str], T]) -> tuple[str, T]:
    name, _, value = text.rpartition("=")
    return name.strip(), read(value.strip(), option)


def _length(text: str, option: str) -> float:
    try:
        return length_mm(text)
    except QuantityError as error:
        raise CannotRefit(f"{option}: {error.message} {error.hint}".strip()) from error


def _diameter(text: str, option: str) -> float:
    found = _length(text, option)
    if not 0.1 <= found <= 100:  # noqa: PLR2004 - thinner is thread, thicker is a hawser
        raise CannotRefit(f"{option}: A cord is between 0.1 and 100 mm thick, not {found:g} mm.")
    return found


def _number(text: str, option: str) -> int:
    if not text.isdecimal() or len(text) > 6:  # noqa: PLR2004 - a million repeats
        raise CannotRefit(f"{option}: Write a part and a number, such as wave=8.")
    return int(text)


def add_copies(parser: argparse._ActionsContainer) -> None:
    """Add the option for the number of copies."""
    parser.add_argument("--copies", metavar="NUMBER", default="", help="for this many of the piece")


def copies_of(options: argparse.Namespace) -> int:
    """Return the number of copies, 1 by default. Raises CannotRefit."""
    text: str = options.copies
    number = int(text) if text.isdecimal() and len(text) <= len(str(MOST_COPIES)) else 0
    if text and not 1 <= number <= MOST_COPIES:
        raise CannotRefit(
            f"--copies: Write a number from 1 to {MOST_COPIES:,}; for several lengths, use coach "
            "quote."
        )
    return number or 1
