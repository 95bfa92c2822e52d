"""What the desk keeps can be read back, added up and shown, whoever wrote it."""

import json
from collections.abc import Mapping
from dataclasses import fields
from math import isfinite
from pathlib import Path
from typing import Any, get_origin

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coach.cli.orders.stock_page import as_list, render_stock
from coach.kept_events import BadEntry
from coach.orders.desk_bounds import MOST_ENTRIES, MOST_OF, checked_desk_event, desk_event_passes
from coach.orders.desk_events import (
    DESK_EVENTS,
    DeskEvent,
    OrderBegun,
    OrderEnded,
    StockAdded,
    StockCounted,
    StockCut,
    StockTaken,
)
from coach.orders.desk_state import fold_desk
from coach.orders.order_outcome import order_outcome, outcome_json
from coach.piece import Store
from coach.piece.piece_errors import CannotBe
from coach.piece.storage.desk_book import DeskBook, desk_event_of
from coach.piece.storage.event_rows import row_of_values

REED = "reed cotton 2 mm"
USUAL = {str: "reed", int: 1, float: 1.0, bool: False, list: [1.0], Mapping: {"copies": 1}}


def usual(kind: str) -> dict[str, Any]:
    found = {f.name: USUAL[get_origin(f.type) or f.type] for f in fields(DESK_EVENTS.by_name[kind])}
    return {**found, **{name: "" for name in ("price", "earned") if name in found}}


FIGURES = [(kind, f.name) for kind, known in DESK_EVENTS.by_name.items() for f in fields(known)
           if (get_origin(f.type) or f.type) in (int, float, list)]  # fmt: skip
TEXTS = [
    (kind, f.name)
    for kind, known in DESK_EVENTS.by_name.items()
    for f in fields(known)
    if f.type is str
]


def with_figure(kind: str, name: str, value: Any) -> DeskEvent:
    values = usual(kind)
    return DESK_EVENTS.by_name[kind](
        **{**values, name: [value] if values[name] == [1.0] else value}
    )


@pytest.mark.parametrize(("kind", "name"), FIGURES)
def test_every_figure_of_every_kind_has_a_most(kind: str, name: str) -> None:
    assert MOST_OF[name] > 0
    checked_desk_event(DESK_EVENTS.by_name[kind](**usual(kind)))
    for wrong in (MOST_OF[name] * 2 + 2, -1, float("nan"), float("inf"), True, "1", None):
        with pytest.raises(BadEntry):
            checked_desk_event(with_figure(kind, name, wrong))


@pytest.mark.parametrize(("kind", "name"), TEXTS)
def test_every_text_of_every_kind_has_an_end(kind: str, name: str) -> None:
    with pytest.raises(BadEntry):
        checked_desk_event(DESK_EVENTS.by_name[kind](**{**usual(kind), name: "reed" * 3000}))


@pytest.mark.parametrize(
    "event",
    [
        StockAdded(at_ms=1, what=""),
        StockAdded(at_ms=1, what="reed\x1b]0;tide\x07"),
        StockAdded(at_ms=1, what="reed\nclay"),
        StockAdded(at_ms=1, what=REED, price="a shell"),
        StockAdded(at_ms=1, what=REED, price="1e999", by_number=True),
        StockAdded(at_ms=1, what=REED, price="NaN", by_number=True),
        StockAdded(at_ms=1, what=REED, lengths_mm=[1.0] * 2000),
        StockAdded(at_ms=1, what=REED, fineness_tex=1e-300, grams=500.0),
        OrderBegun(at_ms=1, order=" ", title="x", source="x"),
        OrderBegun(at_ms=1, order="stall", title="x", source="x", quote={"price": 1e308}),
        OrderBegun(at_ms=1, order="stall", title="x", source="x", quote={"price": float("nan")}),
        OrderBegun(at_ms=1, order="stall", title="x", source="x", quote={"a": "b" * 2**20}),
        OrderBegun(at_ms=1, order="stall", title="x", source="x",
                   quote=json.loads('{"a":' * 900 + "1" + "}" * 900)),
        OrderEnded(at_ms=1, order="stall", earned="sNaN"),
        OrderEnded(at_ms=1, order="stall", earned="1e400"),
        OrderEnded(at_ms=1, order="stall", earned="-5"),
    ],
)  # fmt: skip
def test_what_no_desk_can_hold_is_neither_kept_nor_reckoned_from(
    store: Store, event: DeskEvent
) -> None:
    with pytest.raises(CannotBe, match=r"cannot|too|is no"):
        store.add_to_desk(0, [StockAdded(at_ms=1, what=REED, count=1), event])
    assert store.desk_events() == ()
    assert fold_desk([event]).seq == 1
    assert not fold_desk([event]).stock.items
    assert not fold_desk([event]).orders


@given(st.sampled_from(FIGURES), st.integers(-(10**25), 10**25) | st.floats())
def test_what_passes_is_read_back_as_it_was(figure: tuple[str, str], value: float) -> None:
    event = with_figure(*figure, value)
    if desk_event_passes(event):
        assert desk_event_of(row_of_values(0, 1, event.kind, event.values())) == event
        assert DESK_EVENTS.read(event.kind, json.loads(json.dumps(event.values()))) == event


AMOUNT = st.floats(0, 1e6) | st.sampled_from([0.0, 1e7, 1e-9])
STOCK = st.one_of(
    st.builds(
        StockAdded, at_ms=st.just(1), what=st.just(REED), lengths_mm=st.lists(AMOUNT, max_size=3),
        grams=AMOUNT, count=st.integers(0, 10**6), fineness_tex=st.just(0.0) | st.floats(1, 1e7),
        price=st.sampled_from(["", "14 per 500 g", "9 per 50 m"]),
    ),
    st.builds(StockCounted, at_ms=st.just(1), what=st.just(REED), grams=AMOUNT),
    st.builds(StockTaken, at_ms=st.just(1), what=st.just(REED), length_mm=AMOUNT, grams=AMOUNT),
    st.builds(StockCut, at_ms=st.just(1), what=st.just(REED), piece_mm=AMOUNT, from_mm=AMOUNT),
)  # fmt: skip


@given(st.lists(STOCK, max_size=8))
def test_what_passes_adds_up_and_can_be_shown(events: list[DeskEvent]) -> None:
    assert all(map(desk_event_passes, events))
    items = list(fold_desk(events).stock.items.values())
    for item in items:
        assert isfinite(item.mm)
        assert isfinite(item.grams)
    assert render_stock(items, "cm") or not items
    json.dumps(as_list(items), allow_nan=False)


@given(
    st.floats(-1e12, 1e12), st.integers(-(10**12), 10**12), st.integers(0, 10**12),
    st.decimals(0, 10**12, allow_nan=False).map(str) | st.just(""),
)  # fmt: skip
def test_an_order_that_passes_can_be_looked_back_on(
    price: float, copies: int, worked_ms: int, earned: str
) -> None:
    cost = {"material": price, "overhead": 1}
    quote = {"copies": copies, "price": {"total": price}, "cost": cost, "hours": {"likely": price}}
    checked_desk_event(OrderBegun(at_ms=1, order="stall", title="x", source="x", quote=quote))
    checked_desk_event(OrderEnded(at_ms=1, order="stall", earned=earned))
    told = outcome_json(order_outcome(quote, 3, 1, worked_ms / 1000, earned))
    json.dumps(told, allow_nan=False)


def test_a_desk_has_so_many_entries_and_no_more(store: Store) -> None:
    with pytest.raises(CannotBe, match="can hold"):
        store.add_to_desk(MOST_ENTRIES, [StockAdded(at_ms=1, what=REED, count=1)])


def test_no_way_into_the_book_goes_round_the_judge() -> None:
    """Whoever writes a row of the desk does it here, where it is judged."""
    rooms = Path(__file__).parents[2] / "coach"
    writers = [p.name for p in rooms.rglob("*.py") if "INTO desk" in p.read_text("utf-8")]
    assert sorted(writers) == ["desk_book.py"]
    assert "add_to_desk" in vars(DeskBook)
