"""Orders and stock written to a file and taken in again, here and on another machine."""

import json
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from hand_clock import HandClock

from coach.desk.desk_export import CarriedOrder, CarriedStock, from_file_text
from coach.desk.desk_log import append_to_desk, read_desk
from coach.desk.order_file import exported_order, exported_stock, take_in_order, take_in_stock
from coach.desk.order_log import order_now
from coach.orders.desk_events import (
    OrderBegun,
    OrderEnded,
    OrderWorked,
    PieceJoined,
    StockAdded,
    StockCounted,
    StockCut,
)
from coach.piece import CannotTakeIn, NewerVersion, PieceError, Sitting, Store, start_piece

KNOTS = ["clove hitch"] * 30
HANK = StockAdded(at_ms=1, what="reed cotton 2 mm", lengths_mm=[10_000.0], price="7 per 10 m")
CUT = StockCut(
    at_ms=2, what="reed cotton 2 mm", piece_mm=1320, from_mm=10_000, piece="a", label="reed.1"
)
COUNTED = StockCounted(at_ms=3, what="reed cotton 2 mm", lengths_mm=[9000.0])


def stall(store: Store, clock: HandClock) -> list[int]:
    """Begin an order of two pieces, one of them counted on."""
    numbers = [
        start_piece(store, clock, title="Ebb", project_text="coach: 1\n", source="ebb.yaml",
              total=30, name=f"stall {n}") for n in (1, 2)
    ]  # fmt: skip
    uids = {piece.id: piece.uid for piece in store.pieces()}
    begun = OrderBegun(at_ms=5, order="stall", title="Ebb", source="ebb.yaml", quote={"copies": 2})
    joined = [PieceJoined(at_ms=6, order="stall", piece=uids[n]) for n in numbers]
    append_to_desk(store, lambda _: [begun, *joined])
    count(store, clock, numbers[0], 9)
    return numbers


def count(store: Store, clock: HandClock, number: int, n: int) -> None:
    sitting = Sitting(store, clock, number, KNOTS)
    clock.go_on(9)
    sitting.count(n)
    sitting.leave()


def order_in(text: str) -> CarriedOrder:
    carried = from_file_text(text)
    assert isinstance(carried, CarriedOrder)
    return carried


def stock_in(text: str) -> CarriedStock:
    carried = from_file_text(text)
    assert isinstance(carried, CarriedStock)
    return carried


@pytest.fixture
def other(tmp_path: Path) -> Store:
    return Store(tmp_path / "other.db")


def test_an_order_travels_with_its_pieces_and_comes_back_further_on(
    store: Store, other: Store, clock: HandClock
) -> None:
    numbers = stall(store, clock)
    assert "is here now, with 2 pieces" in take_in_order(
        other, order_in(exported_order(store, "Stall"))
    )
    there, here = order_now(other, "stall"), order_now(store, "stall")
    assert there.order == here.order
    assert [(p.name, p.done, p.uid) for p in there.sound] == [
        (p.name, p.done, p.uid) for p in here.sound
    ]
    again = take_in_order(other, order_in(exported_order(store, "stall")))
    assert "Nothing was changed" in again
    # worked on there, renamed here meanwhile: known by their own ids
    count(other, clock, there.sound[1].id, 30)
    append_to_desk(other, lambda _: [OrderWorked(at_ms=8, order="stall", over_all=True)])
    with store.atomic():
        store.rename(numbers[1], "for Ida")
    assert "up to date" in take_in_order(store, order_in(exported_order(other, "stall")))
    back = order_now(store, "stall")
    assert [(p.name, p.done) for p in back.sound] == [("stall 1", 9), ("for Ida", 30)]
    assert back.order.over_all
    # what came less far takes nothing back
    take_in_order(other, order_in(exported_order(store, "stall")))
    assert [p.done for p in order_now(other, "stall").sound] == [9, 30]


@pytest.mark.parametrize("what", ["order", "piece"])
def test_what_went_another_way_is_refused_and_nothing_is_changed(
    what: str, store: Store, other: Store, clock: HandClock
) -> None:
    numbers = stall(store, clock)
    text = exported_order(store, "stall")
    take_in_order(other, order_in(text))
    if what == "order":
        append_to_desk(store, lambda _: [OrderEnded(at_ms=9, order="stall", earned="60")])
        append_to_desk(other, lambda _: [OrderEnded(at_ms=9, order="stall", given_up=True)])
    else:
        count(store, clock, numbers[0], 3)
        count(other, clock, order_now(other, "stall").sound[0].id, 5)
    before = order_now(other, "stall")
    carried = order_in(exported_order(store, "stall"))
    with pytest.raises(CannotTakeIn, match="--replace"):
        take_in_order(other, carried)
    assert order_now(other, "stall") == before
    if what == "order":
        with pytest.raises(CannotTakeIn, match="belongs to the order ‘stall’ here"):
            take_in_order(other, carried, "stall 2")
    take_in_order(other, carried, instead=True)
    after = order_now(other, "stall")
    assert after.order == order_now(store, "stall").order
    assert [p.done for p in after.sound] == [p.done for p in order_now(store, "stall").sound]


def test_stock_travels_and_is_brought_up(store: Store, other: Store) -> None:
    with pytest.raises(PieceError, match="nothing to export"):
        exported_stock(store)
    append_to_desk(store, lambda _: [HANK, CUT])
    assert "is here now" in take_in_stock(other, stock_in(exported_stock(store)))
    assert read_desk(other) == read_desk(store)
    append_to_desk(store, lambda _: [COUNTED])
    assert "1 more entry" in take_in_stock(other, stock_in(exported_stock(store)))
    assert read_desk(other).stock == read_desk(store).stock
    assert "Nothing was changed" in take_in_stock(other, stock_in(exported_stock(store)))
    begun = OrderBegun(at_ms=5, order="stall", title="Ebb", source="ebb.yaml")
    append_to_desk(other, lambda _: [replace(COUNTED, at_ms=7), begun])
    append_to_desk(store, lambda _: [replace(COUNTED, lengths_mm=[1.0])])
    before = read_desk(other)
    with pytest.raises(CannotTakeIn, match="another way"):
        take_in_stock(other, stock_in(exported_stock(store)))
    assert read_desk(other) == before
    take_in_stock(other, stock_in(exported_stock(store)), instead=True)
    assert read_desk(other).stock == read_desk(store).stock
    assert read_desk(other).order("stall")  # orders are no stock


def test_a_second_window_that_writes_meanwhile_loses_nothing(
    store: Store, clock: HandClock, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """Between reading the order and writing to it another window changes it: told, not lost."""
    stall(store, clock)
    with Store(tmp_path / "there.db") as there:
        take_in_order(there, order_in(exported_order(store, "stall")))
        append_to_desk(there, lambda _: [OrderWorked(at_ms=8, order="stall", over_all=True)])
        carried = order_in(exported_order(there, "stall"))
    with Store(store.path) as window:

        def meanwhile(*_: object, **__: object) -> str:
            append_to_desk(window, lambda _: [OrderEnded(at_ms=9, order="stall")])
            monkeypatch.undo()
            return ""

        monkeypatch.setattr("coach.desk.order_file.take_in_piece", meanwhile)
        with pytest.raises(CannotTakeIn, match="in another window meanwhile"):
            take_in_order(store, carried)
    assert not order_now(store, "stall").order.is_open
    assert not order_now(store, "stall").order.over_all


def test_an_order_that_lost_its_beginning_still_travels(
    store: Store, other: Store, clock: HandClock
) -> None:
    stall(store, clock)
    events = store.desk_events()
    store.write_desk_anew(events[1:])  # as a damaged file is mended
    take_in_order(other, order_in(exported_order(store, "stall")))
    assert [p.done for p in order_now(other, "stall").sound] == [9, 0]


def changed(text: str, change: Callable[[dict[str, Any]], object]) -> str:
    data = json.loads(text)
    change(data)
    return json.dumps(data)


@pytest.mark.parametrize(
    ("change", "told"),
    [
        (lambda d: d["events"][1].update(order="tide"), "several orders"),
        (lambda d: d["events"].pop(0), "begins once"),
        (lambda d: d["events"].append(d["events"][0]), "begins once"),
        (lambda d: d["events"].append(d["events"][1]), "not those of its order"),
        (lambda d: d["events"].pop(1), "not those of its order"),
        (lambda d: d["events"].append({"kind": HANK.kind, **HANK.values()}), "begins once"),
        (lambda d: d["events"][1].update(order="st\x1b[2Jall"), "several lines"),
        (lambda d: d["events"][1].update(colourway="du\u202esk"), "nobody can see"),
        (lambda d: d["events"][1].update(length_mm=1e300), "cannot be over"),
        (lambda d: d["events"][1].update(length_mm=-1), "cannot be"),
        (lambda d: d["events"][0].update(quote={"copies": 1e300}), "cannot hold"),
        (lambda d: d["events"][0].update(at_ms=True), "cannot be True"),
        (lambda d: d["events"].clear(), "not all of it"),
        (lambda d: d["events"].__setitem__(0, 3), "no kind"),
        (lambda d: d["pieces"].append(d["pieces"][0]), "told apart"),
        (lambda d: d["pieces"][0].update(id=""), "told apart"),
        (lambda d: d["pieces"][0]["events"].clear(), "missing"),
        (lambda d: d.update(pieces=3), "not all of it"),
        (lambda d: d.update({"coach order": 0}), "not an exported"),
        (lambda d: d["events"][0].update(length_mm="long"), "newer coach"),
        (lambda d: d.update({"coach order": 2}), "newer coach"),
    ],
)
def test_a_file_of_anybodys_is_judged_before_anything_is_kept(
    change: Callable[[dict[str, Any]], object], told: str, store: Store, clock: HandClock
) -> None:
    stall(store, clock)
    text = changed(exported_order(store, "stall"), change)
    with pytest.raises((CannotTakeIn, NewerVersion), match=told):
        from_file_text(text)


@pytest.mark.parametrize(
    ("change", "told"),
    [
        (lambda d: d["events"].append({"kind": "order begun", "at_ms": 1, "order": "x",
                                       "title": "x", "source": "x"}), "do not belong to a stock"),
        (lambda d: d["events"][0].update(lengths_mm=[1e300]), "cannot be over"),
        (lambda d: d["events"][0].update(price="much"), "price"),
        (lambda d: d["events"][0].update(what=""), "cannot be empty"),
    ],
)  # fmt: skip
def test_stock_of_anybodys_is_judged_likewise(
    change: Callable[[dict[str, Any]], object], told: str, store: Store
) -> None:
    append_to_desk(store, lambda _: [HANK])
    with pytest.raises(CannotTakeIn, match=told):
        from_file_text(changed(exported_stock(store), change))
    torn = exported_stock(store)
    with pytest.raises(CannotTakeIn, match="not all of it"):
        from_file_text(torn[: len(torn) // 2])
