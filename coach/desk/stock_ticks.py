"""The effect of a piece on the stock: cords ticked as cut, findings of a finished piece.

What is unticked, or not finished after all, goes back.
"""

from collections import Counter
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass

from coach.desk.batch_lines import cut_key, is_cut
from coach.desk.desk_log import DeskReading, append_to_desk
from coach.orders.cutting import stock_for
from coach.orders.desk_events import (
    DeskEvent,
    StockCut,
    StockEvent,
    StockPutBack,
    StockReturned,
    StockUsed,
)
from coach.orders.desk_state import DeskState
from coach.orders.material_names import Wanted, find_by_name, tally, wanted_in
from coach.orders.stock import Item, best_remnant
from coach.piece.events import Counted, Event, Happening, TakenBack, Ticked, Unticked
from coach.piece.state import State
from coach.piece.storage.store import Store
from coach.plan.cord.cut_list import cut_list, lengths_of
from coach.plan.pieces import pieces_of
from coach.plan.plan_model import Plan
from coach.quantities import show_cut, show_mass
from coach.text import join_words, one_line


@dataclass(frozen=True, slots=True)
class CutPiece:
    """A cut piece of cord: its label, its length, and whether it hangs before the work."""

    label: str
    wanted: Wanted
    length_mm: float
    hung: bool


def cut_pieces(plan: Plan, unit: str = "cm") -> dict[str, CutPiece]:
    """Return the pieces of cord of a plan by their labels, with the lengths they are cut to."""
    lengths = lengths_of(cut_list(plan, unit))
    return {
        f"{piece.cord}.{piece.number}": CutPiece(
            f"{piece.cord}.{piece.number}",
            wanted_in(plan.project, piece.cord),
            lengths[piece.cord, piece.number],
            piece.origin == "hung",
        )
        for piece in pieces_of(plan)
    }


def beyond_words(item: Item, unit: str = "cm") -> str:
    """Return how much of an item was taken beyond what was there: `4`, `2.4 m`."""
    if item.by_number:
        return f"{-item.count:,}"
    return show_cut(item.owed_mm, unit) if item.owed_mm else show_mass(-item.grams)


def short_words(short: Mapping[str, str]) -> str:
    """Return the sentence about items taken beyond what was there, "" for none."""
    told = [f"{much} more {one_line(what)}" for what, much in short.items()]
    return f"{join_words(told)} taken than was in stock: check the shelf." if told else ""


class StockTicks:
    """Applies events of a piece of work to the stock, in the same transaction."""

    def __init__(
        self,
        store: Store,
        piece: str,
        plan: Plan,
        unit: Callable[[], str] = lambda: "cm",
        desk: DeskReading | None = None,
    ) -> None:
        """Set up for a piece of work.

        Args:
            store: The store.
            piece: The piece's id.
            plan: Its plan as it is cut.
            unit: Return "cm" or "in", the unit in which lengths are rounded up.
            desk: The desk, if it was read before in the same transaction.
        """
        self._desk = desk
        self.short: dict[str, str] = {}  # what was taken beyond what was there, by its label
        self._store, self._piece = store, piece
        self._plan, self._unit = plan, unit

    def told(self) -> str:
        """Return once which stock was taken beyond what was there, or ""."""
        short, self.short = self.short, {}
        return short_words(short)

    def __call__(self, event: Event, after: State) -> None:
        """Update the stock; inside `atomic`, so that both are stored or neither.

        Raises:
            PieceError: It cannot be stored.
        """
        if isinstance(event, Ticked | Unticked):
            if is_cut(event.mark):
                decide = self._taken if isinstance(event, Ticked) else self._given_back
                self._at_desk(lambda desk: list(decide(desk, event)))
        elif isinstance(event, Counted | TakenBack | Happening):
            finished = self._used if after.finished else self._free
            self._at_desk(lambda desk: list(finished(desk, event.at_ms)))

    def _at_desk(self, decide: Callable[[DeskState], list[DeskEvent]]) -> None:
        """Store the decided events, and note which stock they take beyond what was there."""
        happened: list[DeskEvent] = []

        def decided(desk: DeskState) -> list[DeskEvent]:
            happened.extend(decide(desk))
            return happened

        desk = append_to_desk(self._store, decided, self._desk)
        for event in happened:
            item = desk.stock.find(event.what) if isinstance(event, StockEvent) else None
            if item and item.is_short and isinstance(event, StockCut | StockUsed):
                self.short[item.what] = beyond_words(item, self._unit())

    def _used(self, desk: DeskState, at_ms: int) -> Iterator[DeskEvent]:
        """Yield the use of a finished piece's findings, if they are kept in stock."""
        if any(piece == self._piece for piece, _ in desk.used):
            return
        items = {item.what: item for item in desk.stock.items.values() if item.by_number}
        needed = Counter[str]()
        for text, number in tally(self._plan.project.findings, 1).items():
            item = find_by_name(text, items)
            needed[item.what if item else ""] += number
        for what, number in needed.items():
            if what:
                yield StockUsed(at_ms=at_ms, what=what, count=number, piece=self._piece)

    def _free(self, desk: DeskState, at_ms: int) -> Iterator[DeskEvent]:
        """Yield the return of findings of a piece that is not finished after all."""
        for (piece, _), used in desk.used.items():
            if piece == self._piece:
                yield StockReturned(at_ms=at_ms, what=used.what, count=used.count, piece=piece)

    def _taken(self, desk: DeskState, event: Ticked | Unticked) -> Iterator[DeskEvent]:
        """Yield the cut of a piece from the best remnant, if its cord is in stock at all."""
        pieces = cut_pieces(self._plan, self._unit())
        piece = pieces.get(event.what)
        item = stock_for(piece.wanted, desk.stock) if piece else None
        label = cut_key(event.what, event.mark)
        if piece is None or item is None or (self._piece, label) in desk.cut:
            return
        others = tuple(
            one.length_mm
            for one in pieces.values()
            if one.wanted == piece.wanted
            and one.label != piece.label
            and (self._piece, one.label) not in desk.cut
        )
        lengths = item.lengths(piece.wanted.cord.fineness_tex)
        yield StockCut(
            at_ms=event.at_ms, what=item.what, piece_mm=piece.length_mm,
            from_mm=best_remnant(piece.length_mm, others, lengths), piece=self._piece,
            label=label,
        )  # fmt: skip

    def _given_back(self, desk: DeskState, event: Ticked | Unticked) -> Iterator[DeskEvent]:
        """Yield the return of a piece to the remnant it came from, if it came from stock."""
        cut = desk.cut.get((self._piece, cut_key(event.what, event.mark)))
        if cut:
            yield StockPutBack(
                at_ms=event.at_ms, what=cut.what, piece_mm=cut.piece_mm, from_mm=cut.from_mm,
                piece=cut.piece, label=cut.label,
            )  # fmt: skip
