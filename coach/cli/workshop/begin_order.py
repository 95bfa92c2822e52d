"""`coach knot FILE --copies 12 --order stall`: begin an order, or go on with it."""

import argparse
import shlex
from contextlib import suppress
from dataclasses import replace

from coach.cli.orders.copies_asked import group_planner, order_groups, requested_groups
from coach.cli.orders.maker_desk import MakerDesk, read_for_maker, today
from coach.cli.orders.price_list import prices_if_sound
from coach.cli.project_finder import SHELF, NoSuchProject, find_project
from coach.cli.skill_question import skill_set
from coach.cli.workshop.workshop import Workshop
from coach.desk.order_start import ToBegin
from coach.orders.quote import quote_of
from coach.orders.quote_data import quote_json
from coach.orders.read_stock import LONGEST_NAME
from coach.plan.resize.refit import CannotRefit
from coach.session.ports import CannotOpen, OnBench
from coach.text import one_line


def begin_or_open(workshop: Workshop, options: argparse.Namespace) -> OnBench:
    """Return the piece of an order to work on; begins the order where copies are given.

    Raises:
        CannotOpen, PieceError: The order cannot be begun or opened.
    """
    name = one_line(options.order).strip()
    if not name:
        raise CannotOpen("Name the order, as in --order stall: its pieces are kept under it.")
    if options.copies or options.colourway:
        if len(name) > LONGEST_NAME:
            raise CannotOpen(
                f"--order: A name has at most {LONGEST_NAME} letters; this one has {len(name)}."
            )
        made = _made(options.project)
        if made is None:
            raise CannotOpen(f"{one_line(options.project)} has problems; `coach check` tells them.")
        begin(workshop, options, name, made)
    return _of_project(workshop.open_order(name), options.project, name)


def _of_project(opened: OnBench, project: str, name: str) -> OnBench:
    """Return the piece if its order is of that project, or the project's file is gone.

    Raises:
        CannotOpen: The order is of another project.
    """
    source = opened.sitting.state.source
    with suppress(NoSuchProject):
        if find_project(project).key != source:
            opened.sitting.leave()
            raise CannotOpen(
                f"‘{name}’ is an order of {one_line(opened.sitting.state.title)}, not of "
                f"{one_line(project)}. Go on with it as `coach knot "
                f"{shlex.quote(source.removeprefix(SHELF))} --order {shlex.quote(name)}`."
            )
    return opened


def _made(name: str) -> MakerDesk | None:
    """Return the project of an order, None where its file has errors. Raises CannotOpen."""
    try:
        made = read_for_maker(name, skill_set)
    except (NoSuchProject, CannotRefit) as error:
        raise CannotOpen(str(error)) from error
    if made and made.begun:
        raise CannotOpen("An order is begun from its project: name that instead of the piece.")
    return made


def begin(workshop: Workshop, options: argparse.Namespace, name: str, made: MakerDesk) -> None:
    """Begin an order with its quote as of today.

    Args:
        workshop: The pieces.
        options: The options: copies, colourways, sizes, the project.
        name: The name of the order.
        made: The project in the maker's hands, with the desk as it is.

    Raises:
        CannotOpen, PieceError: It cannot be fitted as asked, or cannot be stored.
    """
    try:
        wanted = requested_groups(options, made.plan)
        groups = order_groups(made.plan, options, wanted)
        plans = group_planner(made.plan, options, wanted)
    except CannotRefit as error:
        raise CannotOpen(str(error)) from error
    quote = quote_of(groups, made.desk.stock, prices_if_sound(), made.time_for, today())
    ways = made.plan.project.colourways
    begun = [
        ToBegin(
            one.copies,
            one.colourway,
            replace(plans(one).wish, colours=dict(ways.get(one.colourway, {}))),
            plans(one).plan,
        )
        for one in wanted
    ]
    workshop.begin_order(options.project, name, begun, quote_json(quote))
