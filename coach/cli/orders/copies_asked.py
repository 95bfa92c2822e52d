"""The copies of an order by the options: how many, in which colours, in which lengths."""

import argparse
import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final

from coach.cli.options.colours_asked import colourway_of
from coach.cli.options.size_options import KEEPS, RefitRequest, asks_for_size, refit_as_asked
from coach.cli.orders.order_options import whole_colourway
from coach.orders.batch import MOST_COPIES
from coach.orders.quote_model import Group
from coach.piece.reports.forecast import Forecast
from coach.plan.plan_model import Plan
from coach.plan.resize.refit import CannotRefit

_SOME: Final = re.compile(r"\s*([0-9]{1,5})\s*(?:of\s+(\S.*?))?\s*")


@dataclass(frozen=True, slots=True)
class CopiesRequest:
    """Copies that are alike: their colourway, their number, and their length as typed."""

    colourway: str
    copies: int
    length: str = ""


def requested_groups(options: argparse.Namespace, plan: Plan) -> tuple[CopiesRequest, ...]:
    """Return the groups of an order. Raises CannotRefit with what would be possible."""
    whole = whole_colourway(options)
    if whole:
        way = colourway_of(plan.project, whole)
        some = _some(options.copies or "1", "--copies")
        return _few_enough([replace(one, colourway=way) for one in some])
    ways = [one for text in options.colourway for one in _in_colours(text, plan)]
    plain_ones = list(_some(options.copies, "--copies")) if options.copies else []
    copies, coloured = (sum(one.copies for one in group) for group in (plain_ones, ways))
    if not copies and not coloured:
        return (CopiesRequest("", 1),)
    if copies and coloured > copies:
        raise CannotRefit(
            f"--colourway: {coloured} in colourways are more than the {copies} of --copies. "
            "Leave --copies out, or make it larger."
        )
    if ways and len(plain_ones) > 1:
        raise CannotRefit("--copies: With --colourway, write the lengths as in 'dusk=6 of 15 cm'.")
    if ways and plain_ones:
        rest = copies - coloured
        ways += [CopiesRequest("", rest, plain_ones[0].length)] if rest else []
    return _few_enough(ways or plain_ones)


def _few_enough(groups: Sequence[CopiesRequest]) -> tuple[CopiesRequest, ...]:
    if sum(one.copies for one in groups) > MOST_COPIES:
        raise CannotRefit(f"--copies: Up to {MOST_COPIES:,} can be made at once.")
    return tuple(groups)


def _in_colours(text: str, plan: Plan) -> Iterator[CopiesRequest]:
    name, given, number = text.rpartition("=")
    if not given:
        raise CannotRefit("--colourway: Write how many of each, such as dusk=6.")
    way = colourway_of(plan.project, name)
    for one in _some(number, "--colourway"):
        yield replace(one, colourway=way)


def _some(text: str, option: str) -> Iterator[CopiesRequest]:
    for part in text.split(","):
        found = _SOME.fullmatch(part)
        if not found or not int(found[1]):
            raise CannotRefit(f"{option}: Write how many, such as 12 or '4 of 12 cm'.")
        yield CopiesRequest("", int(found[1]), found[2] or "")


def group_planner(
    plan: Plan, options: argparse.Namespace, groups: Sequence[CopiesRequest], *, begun: bool = False
) -> Callable[[CopiesRequest], RefitRequest]:
    """Return a function that returns the plan of a group; each length is planned once.

    Args:
        plan: The plan of the project, or of a piece under way.
        options: The options for the size of all of them.
        groups: The groups.
        begun: Whether the plan is that of a piece, which keeps its size.

    Raises:
        CannotRefit: A group cannot be made to its size.
    """
    lengths = {one.length for one in groups}
    if begun and (any(lengths) or asks_for_size(options)):
        raise CannotRefit(KEEPS)
    if begun:
        return lambda _one: RefitRequest(plan)
    if any(lengths) and options.length:
        raise CannotRefit("Ask for one --length, or for a length of some copies, not both.")
    plans = {
        length: _of_length(plan, options, length) if length else refit_as_asked(plan, options)
        for length in sorted(lengths)
    }
    return lambda one: plans[one.length]


def _of_length(plan: Plan, options: argparse.Namespace, length: str) -> RefitRequest:
    """Return the plan of copies of one length. Raises CannotRefit without naming other options."""
    try:
        return refit_as_asked(plan, argparse.Namespace(**{**vars(options), "length": length}))
    except CannotRefit as error:
        raise CannotRefit(str(error).removeprefix("--length: ")) from error


def order_groups(
    plan: Plan,
    options: argparse.Namespace,
    asked_for: Sequence[CopiesRequest],
    *,
    begun: bool = False,
) -> tuple[Group, ...]:
    """Return the groups of an order with their plans and their work.

    Args:
        plan: The plan of the project as it is written.
        options: The options for the size of all of them.
        asked_for: Copies, colourway and length of each group.
        begun: Whether the plan is that of a piece, which keeps its size.

    Raises:
        CannotRefit: A group cannot be made to its size, or a piece would have to change its own.
    """
    plan_for, found = group_planner(plan, options, asked_for, begun=begun), list[Group]()
    for one in asked_for:
        own = plan_for(one).plan
        work = Forecast(own).work(0, own.total)
        found.append(Group(one.colourway, one.copies, own, work))
    return tuple(found)
