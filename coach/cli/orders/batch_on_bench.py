"""The order of the piece on the bench: which piece comes next, and the way of working."""

from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import cached_property

from coach.desk.batch_lines import BatchList, Cord
from coach.desk.batch_list import Known, batch_list, tick_pieces
from coach.desk.order_changes import work_over_all
from coach.desk.order_log import OrderAt, order_now, orders_now, steps_at
from coach.orders.batch import following, next_piece
from coach.piece import Clock, NameTaken, NoSuchPiece, Store, Summary
from coach.session.ports import OnBench
from coach.text import one_line


def far_words(order: OrderAt) -> str:
    """Return an order's progress: `5 of 12 finished`."""
    spoilt = f", {len(order.spoilt)} spoilt" if order.spoilt else ""
    return f"{order.finished} of {len(order.sound)} finished{spoilt}"


def with_orders(pieces: Sequence[Summary], orders: Sequence[OrderAt]) -> list[Summary]:
    """Return a list of pieces in which each order under way is one entry.

    It has the number of the piece that comes next, and the place of the one touched last.
    """
    lines = {piece.uid: order for order in orders if order.order.is_open for piece in order.sound}
    told, found = set[str](), list[Summary]()
    for piece in pieces:
        order = lines.get(piece.uid)
        if order is None:
            found.append(piece)
        elif order.order.name not in told:
            told.add(order.order.name)
            found.append(_as_piece(order, piece))
    return found


def _as_piece(order: OrderAt, latest: Summary) -> Summary:
    return replace(
        latest,
        id=first_of(order).id,
        name=f"{order.order.name}: {far_words(order)}",
        done=sum(piece.done for piece in order.sound),
        total=sum(piece.total for piece in order.sound),
        worked_ms=round(order.worked_s * 1000),
    )


def first_of(order: OrderAt) -> Summary:
    """Return the piece of an order to go on with; the last one if all are finished."""
    latest = max(order.sound, key=lambda piece: (piece.touched_ms, -piece.id))
    begun = [piece for piece in order.sound if 0 < piece.done < piece.total]
    if begun and not order.order.over_all:
        return begun[0]
    current = latest.uid if latest.done else ""
    found = next_piece(order.at, current, over_all=order.order.over_all)
    return next((piece for piece in order.sound if piece.uid == found), latest)


def refuse_for_orders(store: Store, piece_id: int) -> None:
    """Refuse to change one piece where the list shows its order. Raises NameTaken."""
    for order in orders_now(store):
        if order.order.is_open and any(piece.id == piece_id for piece in order.sound):
            name = one_line(order.order.name)
            raise NameTaken(f"This is the order ‘{name}’: `coach orders {name}` changes it.")


class BatchOnBench:
    """The order of the current piece; implements `coach.session.ports.Batch`."""

    def __init__(
        self,
        store: Store,
        clock: Clock,
        name: str,
        open_piece: Callable[[int], OnBench],
        current: str = "",
    ) -> None:
        """Set up for an order.

        Args:
            store: The store.
            clock: Tells the time of events.
            name: The order's name.
            open_piece: Open a piece, by its number in the store.
            current: The id of the current piece, "" for none.
        """
        self._store, self._clock, self._name = store, clock, name
        self._open, self._current = open_piece, current
        self._known: Known = {}  # what its pieces need; kept from tick to tick

    @cached_property
    def over_all(self) -> bool:
        """Whether one step is worked over all of its pieces, as first asked.

        It is needed at every step, where reading the desk would take too long; the pieces are read
        anew.
        """
        return order_now(self._store, self._name).order.over_all

    def told(self) -> str:
        """Return the order's progress, in a sentence."""
        order = order_now(self._store, self._name)
        return f"{one_line(self._name)}: {far_words(order)}."

    def turn(self) -> str:
        """Change between the two ways of working, and return a sentence. Raises PieceError."""
        over_all = not order_now(self._store, self._name).order.over_all
        work_over_all(self._store, self._clock, self._name, over_all=over_all)
        self.over_all = over_all
        if over_all:
            return "One step over all pieces: the bench goes on to the next one after each step."
        return "One piece of the order after the other."

    def next_piece(self) -> OnBench | None:
        """Open the piece that comes next, None where no other is left.

        Nothing is asked about how it hangs: the maker has it before her. Raises PieceError.
        """
        order = order_now(self._store, self._name)
        if not order.order.is_open:
            return None
        over_all = order.order.over_all
        at = steps_at(self._store, order) if over_all else order.at
        found = following(at, self._current, over_all=over_all)
        if not found:
            return None
        return self._straight_to(next(p.id for p in order.sound if p.uid == found))

    def step_over(self) -> OnBench | None:
        """Open the piece whose turn it is after a step; None for the current one.

        It also is None where the order is worked piece by piece. Raises PieceError.
        """
        order = order_now(self._store, self._name)
        if not (order.order.is_open and order.order.over_all):
            return None
        found = next_piece(steps_at(self._store, order), self._current, over_all=True)
        if found in (None, self._current):
            return None
        return self._straight_to(next(p.id for p in order.sound if p.uid == found))

    def back_to(self, piece_id: int) -> OnBench:
        """Open the piece before again. Raises PieceError."""
        return self._straight_to(piece_id)

    def _straight_to(self, piece_id: int) -> OnBench:
        """Open a piece that the hands go straight to, so that the clock runs at once."""
        opened = replace(self._open(piece_id), left_ms=None)
        opened.sitting.go_on()
        return opened

    def to_ready(self, unit: str) -> BatchList:
        """Return what is to be prepared for all of its pieces. Raises PieceError."""
        return batch_list(self._store, order_now(self._store, self._name), unit, self._known)

    def tick(self, cords: Sequence[Cord], mark: str, unit: str, *, back: bool = False) -> str:
        """Tick lengths, or take ticks back; see `coach.session.ports.Batch`.

        Args:
            cords: The lengths.
            mark: "cut", "labelled" or "hung".
            unit: "cm" or "in": the unit in which lengths are rounded up.
            back: Whether ticks are taken back.

        Raises:
            PieceError: It cannot be stored.
        """
        return tick_pieces(
            self._store, self._clock, cords, mark, unit, back=back, known=self._known
        )

    def first(self) -> OnBench:
        """Open the piece to go on with; the last one if all are finished.

        Raises:
            NoSuchPiece, PieceError: There is none, or it cannot be opened.
        """
        order = order_now(self._store, self._name)
        if not order.sound:
            raise NoSuchPiece(f"No piece of ‘{one_line(self._name)}’ is left.")
        return self._open(first_of(order).id)
