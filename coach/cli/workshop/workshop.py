"""The maker's workshop: stored pieces and projects, joined for the bench."""

import shlex
from collections.abc import Callable, Collection, Mapping, Sequence
from contextlib import suppress
from dataclasses import replace
from pathlib import Path
from typing import Any

from coach import desk
from coach.cli import orders
from coach.cli.project_finder import SHELF, NoSuchProject, find_project
from coach.cli.workshop.freehand_files import freehand_source
from coach.cli.workshop.piece_loader import PieceLoader
from coach.cli.workshop.project_plans import ProjectPlans
from coach.cli.workshop.put_away import PutAwayPieces
from coach.desk.order_start import Begins, ToBegin
from coach.piece import (
    Clock,
    NoSuchPiece,
    Store,
    Summary,
    find_named,
    find_unfinished,
    list_pieces,
    start_piece,
)
from coach.piece.events import Fitted
from coach.piece.learning.carry_over import carry_over
from coach.piece.open_piece import OpenPiece, open_piece
from coach.piece.piece_management import delete_piece, rename_piece, repeat_like
from coach.piece.storage.read_piece import read_whole_piece, the_piece
from coach.plan.plan_model import Plan
from coach.plan.resize.size_request import Wish
from coach.recording.record import Recording
from coach.session.adjusting.fitting import FittingController
from coach.session.ports import CannotOpen, FinishedPieceActions, OnBench, ProjectOffer, Standing
from coach.text import one_line


class Workshop:
    """Lists, begins and opens pieces; implements `coach.session.ports.Shelf`."""

    def __init__(
        self,
        store: Store,
        clock: Clock,
        skill: Callable[[], str] = str,
        drawer: PutAwayPieces | None = None,
        units: Callable[[], str] = lambda: "cm",
    ) -> None:
        """Set up over a store.

        Args:
            store: The store of pieces.
            clock: Tells the time of events.
            skill: Return the maker's skill when a first piece is begun.
            drawer: Remembers what was put away; by default only in memory.
            units: Return "cm" or "in", the unit in which cord is cut.
        """
        self._store = store
        self._clock = clock
        self._skill = skill
        self._drawer = drawer or PutAwayPieces()
        self._plans = ProjectPlans(store, skill)
        self._openings = PieceLoader(store, clock, units, self._ending)

    def pieces(self) -> Sequence[Summary]:
        """Return the pieces, last touched first; an order under way is one entry."""
        found = list_pieces(self._store)
        if not self._store.has_desk():
            return found
        return orders.with_orders(found, desk.orders_now(self._store))

    def projects(self) -> Sequence[ProjectOffer]:
        """Return the shipped projects that can be begun."""
        return self._plans.offers()

    def plan(self, key: str, cords: Wish | None = None) -> Plan:
        """Return the plan of a project; see `ProjectPlans.plan`. Raises CannotOpen."""
        return self._plans.plan(key, cords)

    def fitting(self, key: str) -> FittingController:
        """Return the fitting of a project. Raises CannotOpen, PieceError."""
        return self._plans.fitting(key)

    def begins(self, key: str) -> Begins:
        """Return what every piece of a project begins with. Raises CannotOpen, PieceError."""
        return self._plans.begins(key)

    def begin(
        self,
        key: str,
        wish: Wish | None = None,
        name: str = "",
        *,
        plan: Plan | None = None,
        again: bool = True,
    ) -> OnBench:
        """Begin a new piece, fitted to its file's own wish and to `wish`, which wins.

        Args:
            key: The project, by path or shelf name.
            wish: How it is to be fitted, if at all.
            name: The maker's name for the piece.
            plan: The plan of the wish, if it is compiled already.
            again: Whether to begin a new one where another coach has begun one by now.

        Raises:
            CannotOpen, PieceError: It cannot be read, fitted or stored.
        """
        first = self._plans.to_start(key, wish, plan)
        with self._store.atomic():
            there = None if again else find_unfinished(self._store, first.source)
            piece_id = there.id if there else start_piece(
                self._store, self._clock, title=first.sound.plan.project.title,
                project_text=first.sound.text, source=first.source, total=first.sound.plan.total,
                name=name, paces=first.paces, beliefs=first.beliefs,
            )  # fmt: skip
        if there:
            return self.open(piece_id)
        base = first.base
        opened = self._openings.on_bench(
            OpenPiece(read_whole_piece(self._store, piece_id), base, base)
        )
        if first.wish:
            opened.sitting.jot(Fitted, at_done=0, total=base.total, wish=first.wish.to_data())
        return opened

    def begin_order(
        self, key: str, name: str, groups: Sequence[ToBegin], quote: Mapping[str, Any]
    ) -> None:
        """Begin an order with all its pieces, as quoted.

        Args:
            key: The project, by path or shelf name.
            name: The name of the order.
            groups: Its pieces, like ones together.
            quote: Its quote; see `coach.orders.quote_data.quote_json`.

        Raises:
            CannotOpen, PieceError: The project cannot be read, or the order cannot be stored.
        """
        begins = self.begins(key)
        desk.begin_order(self._store, self._clock, name, groups, begins=begins, quote=quote)

    def open_order(self, name: str) -> OnBench:
        """Open the piece of an order that comes next, or its last one if all are finished.

        Raises:
            CannotOpen, PieceError: There is no such order, or the piece cannot be opened.
        """
        return orders.BatchOnBench(self._store, self._clock, name, self.open).first()

    def begin_freehand(self, record: Recording, target: str = "") -> OnBench:
        """Begin a piece without a pattern, given what hangs.

        Raises:
            CannotOpen, PieceError: It cannot be begun or stored.
        """
        plan = record.plan
        if plan is None:
            raise CannotOpen("Nothing can hang like that.")
        carried = carry_over(self._store, plan.project, plan, self._skill())
        piece_id = start_piece(
            self._store, self._clock, title=plan.project.title, project_text=record.base,
            source=freehand_source(target), total=plan.total, paces=carried.paces,
            beliefs=carried.beliefs,
        )  # fmt: skip
        return self.open(piece_id)

    def freehand_under_way(self, target: str) -> Summary | None:
        """Return the unfinished piece whose pattern goes to a file, or None."""
        return find_unfinished(self._store, freehand_source(target))

    def away(self) -> Collection[int]:
        """Return the numbers of the pieces that were put away."""
        return {piece.id for piece in list_pieces(self._store) if piece.uid in self._drawer.uids}

    def put_away(self, piece_id: int, *, away: bool) -> None:
        """Put a piece away, or take it out again. Raises PieceError."""
        orders.refuse_for_orders(self._store, piece_id)
        self._drawer.put(the_piece(self._store, piece_id).uid, away=away)

    def rename(self, piece_id: int, name: str) -> str:
        """Rename a piece, and return the stored name. Raises NameTaken, PieceError."""
        orders.refuse_for_orders(self._store, piece_id)
        return rename_piece(self._store, piece_id, name)

    def delete(self, piece_id: int) -> Callable[[], str]:
        """Delete a piece, and return a function that restores it. Raises PieceError."""
        orders.refuse_for_orders(self._store, piece_id)
        return delete_piece(self._store, piece_id)

    def again(self, piece_id: int, name: str = "") -> OnBench:
        """Begin another piece like one, with its measures and its repeats.

        Raises:
            CannotOpen, PieceError: The project cannot be read, or the piece cannot be stored.
        """
        kept = read_whole_piece(self._store, piece_id)
        others = kept.state.happenings
        fitted = next((one for one in others if isinstance(one, Fitted)), None)
        wish = Wish.from_data(fitted.wish) if fitted else None
        opened = self.begin(kept.summary.source.removeprefix(SHELF), wish, name=name)
        repeat_like(opened.sitting, opened.plan, others)
        return replace(opened, now=None)

    def named(self, name: str) -> Summary | None:
        """Return the piece of a name, None where there is none or a project has it."""
        try:
            find_project(name)
        except NoSuchProject:
            with suppress(NoSuchPiece):
                return find_named(self._store, name)
        return None

    def under_way(self, key: str) -> Summary | None:
        """Return the unfinished piece of a project that was worked on last, or None."""
        try:
            return find_unfinished(self._store, find_project(key).key)
        except NoSuchProject as error:
            raise CannotOpen(self._gone(key) or str(error)) from error

    def _gone(self, key: str) -> str:
        """Return how to go on with a piece whose file is gone, "" for no piece."""
        try:
            piece = find_unfinished(self._store, str(Path(key).resolve()))
        except (OSError, ValueError, RuntimeError):  # a name that no file can have
            return ""
        if piece is None:
            return ""
        return (
            f"{one_line(key)} is not there any more, but a piece of it is. Go on with "
            f"`coach knot {shlex.quote(one_line(piece.name))}`."
        )

    def unfinished(self, key: str) -> OnBench | None:
        """Open that piece. Raises CannotOpen, PieceError."""
        piece = self.under_way(key)
        return self.open(piece.id) if piece else None

    def standing(self, piece_id: int) -> Standing:
        """Return a piece's plan and progress without opening it. Raises PieceError."""
        piece = open_piece(self._store, piece_id)
        return Standing(piece.plan, piece.state.done, piece.state.source)

    def open(self, piece_id: int) -> OnBench:
        """Open a piece with its own copy of the project's text. Raises PieceError."""
        return self._openings.open(piece_id)

    def _ending(self, piece_id: int) -> FinishedPieceActions:
        return FinishedPieceActions(
            lambda: self.again(piece_id), lambda: self.put_away(piece_id, away=True)
        )
