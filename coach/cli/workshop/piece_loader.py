"""Opening pieces for the bench, with edits of their files, their orders and patterns."""

from collections.abc import Callable
from dataclasses import replace
from functools import partial

from coach import desk
from coach.cli import orders
from coach.cli.project_finder import project_path
from coach.cli.workshop.freehand_files import target_of
from coach.cli.workshop.if_stocked import IfStocked
from coach.cli.workshop.project_plans import plan_of_text
from coach.piece import Clock, Sitting, Store, notes_before
from coach.piece.entering.project_diff import adopt_project, change_for, keep_own_project, text_sum
from coach.piece.open_piece import OpenPiece, is_freehand, open_piece
from coach.piece.piece_management import take_without_pattern
from coach.piece.reports.forecast import Forecast
from coach.piece.sitting.stored_piece import Beside
from coach.recording.yaml_nodes import CannotCut
from coach.session.ports import Batch, CannotOpen, Edited, FinishedPieceActions, OnBench
from coach.yaml_reader.file_loader import load


class PieceLoader:
    """Opens pieces for work, each with its possible actions."""

    def __init__(
        self,
        store: Store,
        clock: Clock,
        units: Callable[[], str],
        ending: Callable[[int], FinishedPieceActions],
    ) -> None:
        """Set up over a store.

        Args:
            store: The store of pieces.
            clock: Tells the time of events.
            units: Return "cm" or "in", the unit in which cord is cut.
            ending: Return what can be done with a piece, by its number, once it is finished.
        """
        self._store = store
        self._clock = clock
        self._units = units
        self._ending = ending

    def open(self, piece_id: int) -> OnBench:
        """Open a piece with its own copy of the project's text. Raises PieceError."""
        piece = open_piece(self._store, piece_id)
        left_ms = piece.state.touched_ms if piece.state.done else None
        opened = replace(self.on_bench(piece), left_ms=left_ms)
        if is_freehand(piece.state):
            return replace(opened, freehand=True, target=target_of(piece.state.source))
        batch = self._batch(piece.kept.summary.uid)
        without = None if batch else partial(self._without_pattern, piece_id)
        return replace(opened, edited=self._edited(piece), batch=batch, without_pattern=without)

    def on_bench(self, piece: OpenPiece) -> OnBench:
        """Open a piece that has just been read. Raises PieceError."""
        piece_id = piece.kept.summary.id
        sitting = Sitting(
            self._store,
            self._clock,
            piece_id,
            [count.knot for count in piece.plan.counts],
            Forecast(piece.plan).work,
            kept=piece.kept,
            beside=IfStocked(self._store, partial(self._stock_ticks, piece)),
        )
        earlier = notes_before(self._store, piece_id)
        ending = self._ending(piece_id)
        return OnBench(piece.base, sitting, earlier=earlier, now=piece.plan, ending=ending)

    def _stock_ticks(self, piece: OpenPiece) -> Beside:
        return desk.StockTicks(self._store, piece.kept.summary.uid, piece.base, self._units)

    def _without_pattern(self, piece_id: int) -> OnBench:
        """Let a piece go on without its pattern. Raises CannotOpen, PieceError."""
        piece = open_piece(self._store, piece_id)
        try:
            take_without_pattern(self._store, self._clock, piece)
        except CannotCut as error:
            raise CannotOpen(str(error)) from error
        return self.open(piece_id)

    def _batch(self, uid: str) -> Batch | None:
        """Return the order under way that a piece belongs to, by the piece's id."""
        if not self._store.has_desk():
            return None
        order = desk.read_desk(self._store).order_of(uid)
        if order is None or not order.is_open:
            return None
        return orders.BatchOnBench(self._store, self._clock, order.name, self.open, uid)

    def _edited(self, piece: OpenPiece) -> Edited | None:
        """Return the edits of a piece's file, None if it is gone, unsound or declined."""
        state, piece_id = piece.state, piece.kept.summary.id
        found = project_path(state.source)
        if found is None or state.finished:
            return None
        text = load(found).text
        if text in (None, state.project_text):
            return None
        if text_sum(text or "") == state.declined:
            return None
        new = plan_of_text(text or "")
        if new is None:
            return None
        change = change_for(piece, new, text or "")

        def take() -> OnBench:
            if change.refused:
                raise CannotOpen(change.refused)
            adopt_project(self._store, self._clock, piece_id, change)
            return self.open(piece_id)

        def keep_on() -> None:
            keep_own_project(self._store, self._clock, piece_id, change)

        return Edited(change, take, keep_on)
