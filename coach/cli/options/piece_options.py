"""The piece that a command is about, with size, cords, colours, units and hands.

Every command that describes or draws a piece has the same options for it.
"""

import argparse
import os
from collections.abc import Callable
from dataclasses import dataclass

from coach.cli.bench_setup import add_units, chosen_units
from coach.cli.options.colours_asked import in_colourway
from coach.cli.options.maker_plan import add_untaught, plan_for_maker
from coach.cli.options.size_options import (
    KEEPS,
    add_copies,
    add_size_options,
    asks_for_size,
    copies_of,
    cords_wished,
    refit_as_asked,
)
from coach.cli.project_files import read_file
from coach.cli.project_finder import NoSuchProject, add_project
from coach.pace.estimate import Paces, Range
from coach.piece import NoSuchPiece, Store, find_named, folders
from coach.piece.events import Measured
from coach.piece.learning.estimates import estimates_of
from coach.piece.open_piece import OpenPiece, open_piece
from coach.piece.reports.forecast import Forecast
from coach.plan.cord.cut_list import SURE
from coach.plan.plan_model import Plan
from coach.plan.resize.refit import CannotRefit
from coach.report.plan_report import PlanReport, report_of
from coach.settings.settings import Units


def find_begun_piece(name: str) -> OpenPiece | None:
    """Return the piece of that name, None where there is none. Raises PieceError."""
    database = folders(os.environ).database
    if not database.exists():
        return None
    with Store(database) as store:
        try:
            found = find_named(store, name)
        except NoSuchPiece:
            return None
        return open_piece(store, found.id)


def as_begun(piece: OpenPiece) -> Plan:
    """Return the current plan of a piece, in the hands that its measures show."""
    state, plan = piece.state, piece.plan
    if any(isinstance(happening, Measured) for happening in state.happenings):
        return estimates_of(piece.base, state.happenings, state.beliefs, plan).plan
    return plan


@dataclass(frozen=True, slots=True)
class RequestedPiece:
    """A piece as asked for: its plan, the maker's paces, the unit of lengths, the copies.

    `changes` are the changes to the file in words, `learnt_from` the pieces from which the figures
    of cords and hands come.
    """

    plan: Plan
    paces: Paces
    unit: Units
    copies: int = 1
    changes: tuple[str, ...] = ()
    learnt_from: tuple[str, ...] = ()

    @property
    def time(self) -> Range:
        """How long all of it takes the maker."""
        return Forecast(self.plan).left(self.paces, 0)

    def report(self, *, sure: float = SURE, full: bool = False) -> PlanReport:
        """Return the report of the plan; `full` adds one extra repeat and savings."""
        return report_of(
            self.plan,
            unit=self.unit,
            copies=self.copies,
            sure=sure,
            time=self.time,
            changes=self.changes,
            learnt_from=self.learnt_from,
            one_more=full,
            savings=full,
        )


def add_piece_options(parser: argparse.ArgumentParser) -> None:
    """Add the options for a piece: project or name, size, colours, units, hands."""
    add_project(parser, also="the name of a piece")
    add_size_options(parser)
    looks = parser.add_argument_group("told and shown")
    add_copies(looks)
    looks.add_argument("--colourway", metavar="NAME", default="", help="one of the file's own")
    add_units(looks)
    add_untaught(looks)


def read_requested_piece(
    options: argparse.Namespace, skill: Callable[[], str], *, coloured: bool = True
) -> RequestedPiece | None:
    """Return the piece that a call asks for, None where its file has errors, once reported.

    Args:
        options: The options from `add_piece_options`.
        skill: Return the maker's skill.
        coloured: Whether to apply the colourway that is asked for.

    Raises:
        NoSuchProject: It is neither a project nor a piece.
        CannotRefit: The size asked for is impossible.
        PieceError: The piece of that name cannot be read.
    """
    unit, colourway = chosen_units(options.units), options.colourway if coloured else ""
    try:
        plan = read_file(options.project)
    except NoSuchProject:
        piece = find_begun_piece(options.project)
        if piece is None:
            raise
        return _as_asked(piece, options, unit, colourway)
    if plan is None:
        return None
    own = plan_for_maker(plan, skill, untaught=options.untaught, cords=cords_wished(options))
    wish = refit_as_asked(own.plan, options)
    shown = in_colourway(wish.plan, colourway)
    return RequestedPiece(shown, own.paces, unit, copies_of(options), wish.changes, own.learnt_from)


def _as_asked(
    piece: OpenPiece, options: argparse.Namespace, unit: Units, colourway: str
) -> RequestedPiece:
    """Return a piece as it is asked for. Raises CannotRefit for another size."""
    if asks_for_size(options):
        raise CannotRefit(KEEPS)
    shown, copies = in_colourway(as_begun(piece), colourway), copies_of(options)
    return RequestedPiece(shown, piece.state.paces, unit, copies)
