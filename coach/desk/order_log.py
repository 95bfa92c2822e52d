"""Storing orders: beginning them with all their pieces, and reading their progress."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Final, TypeAlias

from coach.desk.desk_log import append_to_desk, read_desk
from coach.desk.order_start import Begins, ToBegin
from coach.orders.batch import PieceAt
from coach.orders.desk_events import DeskEvent, OrderBegun, PieceJoined
from coach.orders.desk_state import DeskState, Order
from coach.pace.estimate import Paces, Range, time_for
from coach.pace.pace_json import from_data
from coach.pace.work_amount import WorkAmount
from coach.piece.clock import Clock
from coach.piece.events import Begun, Event, Fitted
from coach.piece.folding import fold
from coach.piece.open_piece import begun_plan, followed_plan
from coach.piece.piece_errors import NameTaken, NoSuchPiece
from coach.piece.reports.forecast import Forecast
from coach.piece.service import start_piece
from coach.piece.state import State
from coach.piece.storage.read_piece import read_whole_piece
from coach.piece.storage.store import Store
from coach.piece.storage.summary import Summary
from coach.text import one_line

Alike: TypeAlias = tuple[str, tuple[tuple[str, tuple[tuple[str, str], ...]], ...]]
"""A project's text, and by kind and fields what happened since."""
_WHEN: Final = ("at_ms", "tick_ms", "sitting")
_TRUST_S: Final = 900.0
"""Seconds of work after which half of the difference to what was expected is believed: rough."""


def begin_order(
    store: Store,
    clock: Clock,
    name: str,
    groups: Sequence[ToBegin],
    *,
    begins: Begins,
    quote: Mapping[str, Any],
) -> Order:
    """Begin an order with all of its pieces, in one transaction.

    Args:
        store: The store.
        clock: Tells the time of the events.
        name: The name of the order.
        groups: Its pieces, like ones together.
        begins: What all pieces of the project begin with.
        quote: Its quote; see `coach.orders.quote_data.quote_json`.

    Raises:
        NameTaken: An order has that name already.
        PieceError: It cannot be stored.
    """
    with store.atomic():
        if read_desk(store).order(name):
            raise NameTaken(f"An order is called ‘{name}’ already. Give this one another name.")
        joined = [
            PieceJoined(
                at_ms=clock.now_ms(), order=name, piece=_begun(store, clock, name, one, begins),
                colourway=one.colourway, length_mm=round(one.plan.length_mm, 1),
            )
            for one in groups
            for _ in range(one.copies)
        ]  # fmt: skip
        begun = OrderBegun(
            at_ms=clock.now_ms(), order=name, title=begins.title, source=begins.source, quote=quote
        )
        return _order(append_to_desk(store, lambda _: [begun, *joined]), name)


def join_order(store: Store, clock: Clock, name: str, one: ToBegin, begins: Begins) -> DeskState:
    """Begin one more piece under an order, as a replacement of a spoilt one.

    Args:
        store: The store.
        clock: Tells the time of the events.
        name: The order's name.
        one: The piece: its colourway, wish and plan.
        begins: What all pieces of the project begin with.

    Raises:
        PieceError: There is no such order under way, or it cannot be stored.
    """

    def decide(desk: DeskState) -> list[DeskEvent]:
        order = open_order(desk, name)
        piece = _begun(store, clock, order.name, one, begins)
        joined = PieceJoined(
            at_ms=clock.now_ms(), order=order.name, piece=piece, colourway=one.colourway,
            length_mm=round(one.plan.length_mm, 1),
        )  # fmt: skip
        return [joined]

    return append_to_desk(store, decide)


def _begun(store: Store, clock: Clock, order: str, one: ToBegin, begins: Begins) -> str:
    """Begin a piece and return its id."""
    taken = [piece.name for piece in store.pieces()]
    way = f" {one.colourway}" if one.colourway else ""
    number = start_piece(
        store, clock, title=begins.title, project_text=begins.text, source=begins.source,
        total=begins.total, name=_name(f"{order}{way}", taken), paces=begins.paces,
        beliefs=begins.beliefs,
    )  # fmt: skip
    kept = read_whole_piece(store, number)
    if one.wish:
        event = Fitted(
            at_ms=clock.now_ms(), tick_ms=clock.tick_ms(), sitting=0, at_done=0,
            total=one.plan.total, wish=one.wish.to_data(),
        )  # fmt: skip
        store.append(number, fold(kept.state, event), event)
    return kept.summary.uid


def _name(order: str, taken: Sequence[str]) -> str:
    """Return the first free name for a piece of an order: `stall dusk 1`."""
    used = {name.casefold() for name in taken}
    number = 1
    while f"{order} {number}".casefold() in used:
        number += 1
    return f"{order} {number}"


def _order(desk: DeskState, name: str) -> Order:
    order = desk.order(name)
    if order is None:
        known = ", ".join(f"‘{one.name}’" for one in desk.orders.values() if one.is_open)
        there = f"There is {known}." if known else "There are no orders under way."
        raise NoSuchPiece(f"No order is called ‘{name}’. {there}")
    return order


def open_order(desk: DeskState, name: str) -> Order:
    """Return an order under way. Raises NoSuchPiece if it ended, or there is none."""
    order = _order(desk, name)
    if not order.is_open:
        raise NoSuchPiece(f"‘{one_line(order.name)}’ is over; what is made stays made.")
    return order


@dataclass(frozen=True, slots=True)
class OrderAt:
    """An order and its progress, without pieces that are no longer in this database."""

    order: Order
    sound: tuple[Summary, ...]
    spoilt: tuple[Summary, ...]

    @property
    def at(self) -> tuple[PieceAt, ...]:
        """The progress of each sound piece."""
        return tuple(PieceAt(piece.uid, piece.done, piece.total) for piece in self.sound)

    @property
    def finished(self) -> int:
        """How many pieces are finished."""
        return sum(piece.finished for piece in self.sound)

    @property
    def worked_s(self) -> float:
        """The seconds worked on all of its pieces, spoilt ones included."""
        return sum(piece.worked_ms for piece in (*self.sound, *self.spoilt)) / 1000


def orders_now(store: Store) -> list[OrderAt]:
    """Return all orders with their progress, open ones first, the last begun first."""
    with store.one_view():
        desk, kept = read_desk(store), {piece.uid: piece for piece in store.pieces()}
    found = [_at(order, kept) for order in desk.orders.values()]
    return sorted(found, key=lambda one: (not one.order.is_open, -one.order.begun_ms))


def order_now(store: Store, name: str) -> OrderAt:
    """Return one order with its progress. Raises NoSuchPiece, PieceError."""
    with store.one_view():
        desk, kept = read_desk(store), {piece.uid: piece for piece in store.pieces()}
    return _at(_order(desk, name), kept)


def _at(order: Order, kept: Mapping[str, Summary]) -> OrderAt:
    pieces = [(one, kept[one.piece]) for one in order.pieces if one.piece in kept]
    return OrderAt(
        order,
        tuple(piece for one, piece in pieces if not one.spoilt),
        tuple(piece for one, piece in pieces if one.spoilt),
    )


def steps_at(store: Store, order: OrderAt) -> tuple[PieceAt, ...]:
    """Return the progress of each sound piece, by steps where their numbers of counts differ.

    A longer piece has more counts in a step: by counts alone the shorter one would always seem
    furthest behind. Raises PieceError.
    """
    if len({piece.total for piece in order.sound}) < 2:  # noqa: PLR2004 - all are alike
        return order.at
    plans, found = dict[Alike, Forecast](), list[PieceAt]()
    for piece in order.sound:
        state = read_whole_piece(store, piece.id).state
        forecast = _forecast(state, plans)
        if forecast is None:
            return order.at
        step = forecast.plan.step_at(min(state.done, forecast.plan.total))
        at = step.index if step else len(forecast.plan.steps)
        found.append(PieceAt(piece.uid, piece.done, piece.total, at))
    return tuple(found)


def left_of(store: Store, order: OrderAt, between_s: float) -> Range | None:
    """Return how long the rest of an order takes at the pace at which it really goes.

    Each piece only learns from its own few counts, so the whole of what was worked is compared with
    what it was expected to take at the paces that the order began with.

    Args:
        store: The store.
        order: The order.
        between_s: The time between two pieces, in seconds.

    Returns:
        None where a piece can no longer be followed.

    Raises:
        PieceError: The store cannot be read.
    """
    left, made, plans = WorkAmount(), WorkAmount(), dict[Alike, Forecast]()
    begun: Paces | None = None
    for piece in (*order.sound, *order.spoilt):
        kept = read_whole_piece(store, piece.id)
        begun = begun or _begun_with(kept.events[0])
        forecast = _forecast(kept.state, plans)
        if forecast is None:
            return None
        made = made.and_also(forecast.work(0, kept.state.done))
        if piece in order.sound:
            left = left.and_also(forecast.work(kept.state.done, forecast.plan.total))
    if begun is None:
        return None
    expected_s = time_for(begun, made).likely_s if made.hands_s else 0.0
    real = (order.worked_s + _TRUST_S) / (expected_s + _TRUST_S)
    unfinished = sum(not piece.finished for piece in order.sound)
    time, handling = time_for(begun, left), between_s * max(0, unfinished - 1)
    low, likely, high = (s * real + handling for s in (time.low_s, time.likely_s, time.high_s))
    return Range(low, likely, high)


def _begun_with(event: Event) -> Paces | None:
    """Return the paces that a piece began with."""
    return from_data(event.paces) if isinstance(event, Begun) and event.paces else None


def alike(state: State) -> Alike:
    """Return the key that pieces share which follow the same plan, whenever things happened."""
    happened = (
        (event.kind, tuple((k, repr(v)) for k, v in event.values().items() if k not in _WHEN))
        for event in (*state.happenings, *state.said)
    )
    return state.project_text, tuple(happened)


def _forecast(state: State, plans: dict[Alike, Forecast]) -> Forecast | None:
    """Return the forecast of a piece; pieces that are alike share one."""
    key = alike(state)
    if key not in plans:
        base = begun_plan(state)
        plan = followed_plan(base, state)
        if plan is None:
            return None
        plans[key] = Forecast(plan)
    return plans[key]
