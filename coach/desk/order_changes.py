"""Changes to an order under way: spoilt pieces, extra ones, splitting it, ending it."""

from collections.abc import Collection

from coach.desk.desk_log import append_to_desk, read_desk
from coach.desk.order_log import join_order, open_order
from coach.desk.order_start import Begins, ToBegin
from coach.orders.desk_events import (
    DeskEvent,
    OrderBegun,
    OrderEnded,
    OrderWorked,
    PieceJoined,
    PieceLeft,
    PieceSpoilt,
)
from coach.orders.desk_state import DeskState, Order, OrderPiece
from coach.orders.order_outcome import Material
from coach.piece.clock import Clock
from coach.piece.events import Fitted
from coach.piece.learning.carry_over import carry_over
from coach.piece.open_piece import begun_plan
from coach.piece.piece_errors import CountedOtherwise, NameTaken, NoSuchPiece
from coach.piece.reports.forecast import Forecast
from coach.piece.state import State
from coach.piece.storage.read_piece import read_whole_piece
from coach.piece.storage.store import Store
from coach.piece.storage.summary import Summary
from coach.plan.from_text import read_plan
from coach.plan.resize.size_request import Wish
from coach.text import one_line


def work_over_all(store: Store, clock: Clock, name: str, *, over_all: bool) -> None:
    """Change the way of working an order.

    Args:
        store: The store.
        clock: Tells the time of the event.
        name: The order's name.
        over_all: One step over all pieces, then the next step; otherwise piece by piece.

    Raises:
        PieceError: There is no such order under way, or the change cannot be stored.
    """
    append_to_desk(store, lambda desk: [
        OrderWorked(at_ms=clock.now_ms(), order=open_order(desk, name).name, over_all=over_all)
    ])  # fmt: skip


def end_order(
    store: Store, clock: Clock, name: str, *, given_up: bool = False, earned: str = "",
    material: Material | None = None,
) -> None:  # fmt: skip
    """End an order; what is made stays made.

    Args:
        store: The store.
        clock: Tells the time of the event.
        name: The order's name.
        given_up: Whether it is given up rather than done.
        earned: The money that it brought as a decimal number, "" if unknown.
        material: The material used for it.

    Raises:
        PieceError: There is no such order under way, or it cannot be stored.
    """
    append_to_desk(store, lambda desk: [
        OrderEnded(at_ms=clock.now_ms(), order=open_order(desk, name).name, given_up=given_up,
                   earned=earned, material=material.to_data() if material else {})
    ])  # fmt: skip


def spoil_piece(
    store: Store, clock: Clock, name: str, piece: Summary, *, why: str = "", skill: str = "",
    another: bool = False,
) -> str:  # fmt: skip
    """Mark a piece of an order as spoilt; what it took still counts for the order.

    Args:
        store: The store.
        clock: Tells the time of the events.
        name: The order's name.
        piece: The piece.
        why: The maker's note on it.
        skill: The maker's skill, for the paces of a replacement.
        another: Whether to begin a replacement, in the same transaction.

    Returns:
        The name of the replacement; "" without one.

    Raises:
        PieceError: It is not a sound piece of an order under way, or the change cannot be stored.
    """

    def spoilt(desk: DeskState) -> list[DeskEvent]:
        order = open_order(desk, name)
        if _kept_in(order, piece).spoilt:
            raise NoSuchPiece(f"‘{one_line(piece.name)}’ is not a sound piece of ‘{order.name}’.")
        return [
            PieceSpoilt(at_ms=clock.now_ms(), order=order.name, piece=piece.uid, why=one_line(why))
        ]

    with store.atomic():
        append_to_desk(store, spoilt)
        return one_more(store, clock, name, piece, skill) if another else ""


def one_more(store: Store, clock: Clock, name: str, like: Summary, skill: str = "") -> str:
    """Begin one more piece of an order like one that it has, spoilt or not.

    It has that one's project, as it was then, its size and its colours; the maker's paces and
    cords are those of today.

    Args:
        store: The store.
        clock: Tells the time of the events.
        name: The order's name.
        like: The piece to copy.
        skill: The maker's skill, where nothing was learnt yet.

    Returns:
        The name of the new piece.

    Raises:
        CountedOtherwise: The project of that piece cannot be read by this coach.
        PieceError: The piece is not of this order, or the new one cannot be stored.
    """
    state = read_whole_piece(store, like.id).state
    plan, written = begun_plan(state), read_plan(state.project_text).plan
    if plan is None or written is None:
        raise CountedOtherwise(f"{one_line(state.title)} cannot be read by this coach any more.")
    carried = carry_over(store, plan.project, plan, skill)
    begins = Begins(
        state.title, state.project_text, state.source, written.total,
        Forecast(plan).prior(carried.paces), carried.beliefs,
    )  # fmt: skip
    with store.atomic():
        order = open_order(read_desk(store), name)
        colourway = _kept_in(order, like).colourway
        desk = join_order(
            store, clock, order.name, ToBegin(1, colourway, _wish_of(state), plan), begins
        )
        uid = open_order(desk, name).pieces[-1].piece
        return next(piece.name for piece in store.pieces() if piece.uid == uid)


def _wish_of(state: State) -> Wish:
    first = next((one for one in state.happenings if isinstance(one, Fitted)), None)
    return Wish.from_data(first.wish) if first else Wish()


def split_order(
    store: Store, clock: Clock, name: str, into: str, uids: Collection[str]
) -> DeskState:
    """Move some sound pieces of an order to another one with the same quote.

    Each order's account is that of its own pieces: the quote is divided by their number.

    Args:
        store: The store.
        clock: Tells the time of the events.
        name: The order's name.
        into: The name of the new order.
        uids: The ids of the pieces; some but not all of the sound ones.

    Raises:
        NameTaken: An order has that name already.
        NoSuchPiece: One is not a sound piece of the order, or none or all of them are to go.
    """
    return append_to_desk(store, lambda desk: _parted(desk, clock.now_ms(), name, into, uids))


def let_go(store: Store, clock: Clock, name: str, uids: Collection[str]) -> DeskState:
    """Take some sound pieces out of an order: each goes on as a piece of its own.

    Args:
        store: The store.
        clock: Tells the time of the events.
        name: The order's name.
        uids: The ids of the pieces; some but not all of the sound ones.

    Raises:
        NoSuchPiece: One is not a sound piece of the order, or none or all of them are to go.
    """

    def left(desk: DeskState) -> list[DeskEvent]:
        order = open_order(desk, name)
        return [
            PieceLeft(at_ms=clock.now_ms(), order=order.name, piece=piece.piece)
            for piece in _moved(order, uids)
        ]

    return append_to_desk(store, left)


def _moved(order: Order, uids: Collection[str]) -> list[OrderPiece]:
    """Return the pieces that leave an order. Raises NoSuchPiece."""
    moved = [piece for piece in order.sound if piece.piece in uids]
    if not moved or len(moved) < len(set(uids)) or len(moved) == len(order.sound):
        raise NoSuchPiece(
            f"Some of the {len(order.sound)} sound pieces of ‘{order.name}’ can leave it; at least "
            "one must stay."
        )
    return moved


def _parted(
    desk: DeskState, at_ms: int, name: str, into: str, uids: Collection[str]
) -> list[DeskEvent]:
    order = open_order(desk, name)
    if desk.order(into):
        raise NameTaken(f"An order is called ‘{into}’ already. Give this one another name.")
    moved = _moved(order, uids)
    begun = OrderBegun(
        at_ms=at_ms, order=into, title=order.title, source=order.source, quote=dict(order.quote),
        over_all=order.over_all,
    )  # fmt: skip
    left = [PieceLeft(at_ms=at_ms, order=order.name, piece=piece.piece) for piece in moved]
    joined = [
        PieceJoined(at_ms=at_ms, order=into, piece=piece.piece, colourway=piece.colourway,
                    length_mm=piece.length_mm)
        for piece in moved
    ]  # fmt: skip
    return [*left, begun, *joined]


def _kept_in(order: Order, piece: Summary) -> OrderPiece:
    """Return the entry of a piece in its order. Raises NoSuchPiece."""
    found = next((one for one in order.pieces if one.piece == piece.uid), None)
    if found is None:
        raise NoSuchPiece(f"‘{one_line(piece.name)}’ is not a piece of ‘{order.name}’.")
    return found
