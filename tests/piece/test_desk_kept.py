"""The desk in the database: committed before it is shown, two coaches at once, damage."""

import sqlite3
from contextlib import closing
from pathlib import Path

import pytest
from hand_clock import HandClock

from coach import orders
from coach.cli.workshop.workshop import Workshop
from coach.desk.desk_log import append_to_desk, read_desk
from coach.desk.stock_ticks import cut_pieces
from coach.orders.desk_events import StockAdded
from coach.piece import Damaged, NewerVersion, OutOfTurn, Store
from coach.piece.events import Ticked, Unticked
from coach.piece.rescue.recovery import make_anew, recover

REED = "reed cotton 2 mm"
HANK = StockAdded(at_ms=1, what=REED, lengths_mm=[10_000.0, 1500.0])


def test_what_is_kept_is_on_the_disk_when_it_is_told(store: Store) -> None:
    told = append_to_desk(store, lambda _: [HANK])
    with Store(store.path) as other:
        assert read_desk(other) == told
        assert read_desk(other).stock.find(REED)


def test_nothing_is_kept_of_what_cannot_be_decided(store: Store) -> None:
    def stumble(_: object) -> list[StockAdded]:
        raise ValueError("stumbled")

    with pytest.raises(ValueError, match="stumbled"):
        append_to_desk(store, stumble)
    assert read_desk(store).seq == 0


def test_two_coaches_at_one_desk_never_write_over_each_other(store: Store) -> None:
    with Store(store.path) as other:
        append_to_desk(other, lambda _: [HANK])
        with pytest.raises(OutOfTurn):
            store.add_to_desk(0, [HANK])  # it had read the empty desk
        append_to_desk(store, lambda _: [HANK])
        assert [read_desk(one).seq for one in (store, other)] == [2, 2]


@pytest.mark.parametrize(
    ("change", "error"),
    [
        ("data = replace(data, '1500', '1600')", Damaged),
        ("kind = 'stock counted'", Damaged),
        ("at = replace(at, '1970', '1971')", Damaged),
        ("seq = 3", Damaged),
    ],
)
def test_an_entry_that_is_not_as_it_was_written_is_told(
    store: Store, change: str, error: type[Exception]
) -> None:
    append_to_desk(store, lambda _: [HANK, HANK])
    with closing(sqlite3.connect(store.path)) as db:
        db.execute(f"UPDATE desk SET {change} WHERE seq = 1")  # noqa: S608 - our own words
        db.commit()
    with pytest.raises(error):
        read_desk(store)
    with pytest.raises(error):
        store.check()


def test_an_entry_of_a_newer_coach_is_told_as_such(
    store: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    class Newer(StockAdded):
        kind = "stock dreamt"

    monkeypatch.setattr(orders, "checked_desk_event", lambda event: event)  # as that coach judges
    store.add_to_desk(0, [Newer(at_ms=1, what=REED)])
    with pytest.raises(NewerVersion):
        read_desk(store)


def test_a_damaged_database_gives_its_desk_back(store: Store, clock: HandClock) -> None:
    append_to_desk(store, lambda _: [HANK, HANK])
    before, path = read_desk(store), store.path
    store.settle()
    store.close()
    found = recover(path)
    make_anew(path, found.pieces, clock.now_ms(), found.desk)
    with Store(path) as anew:
        assert read_desk(anew).stock == before.stock


def test_a_snapshot_holds_the_desk(store: Store, clock: HandClock) -> None:
    append_to_desk(store, lambda _: [HANK])
    assert store.snapshot(clock.now_ms())
    (copy,) = (store.path.parent / "snapshots").glob("*.db")
    with Store(copy) as other:
        assert read_desk(other) == read_desk(store)


def test_a_tick_takes_the_piece_out_of_stock_and_unticking_puts_it_back(
    store: Store, clock: HandClock
) -> None:
    append_to_desk(store, lambda _: [HANK])
    desk = Workshop(store, clock)
    bench = desk.begin("reed-keyring")
    piece = cut_pieces(bench.plan)["reed.1"]
    bench.sitting.jot(Ticked, what="reed.1", mark="labelled")
    assert read_desk(store).seq == 1
    bench.sitting.jot(Ticked, what="reed.1", mark="cut")
    item = read_desk(store).stock.find(REED)
    assert item
    assert item.lengths_mm == (1500 - piece.length_mm, 10_000)  # the short remnant first
    with Store(store.path) as other:
        assert read_desk(other).stock.find(REED) == item
    bench.sitting.jot(Unticked, what="reed.1", mark="cut")
    item = read_desk(store).stock.find(REED)
    assert item
    assert item.lengths_mm == (1500, 10_000)
    bench.sitting.jot(Ticked, what="clay.1", mark="cut")  # of which nothing is in stock
    assert read_desk(store).seq == 3


def test_tick_and_stock_are_kept_together_or_not_at_all(
    store: Store, clock: HandClock, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The disk refuses the stock: the tick waits, shown as not kept, and both are kept later."""
    append_to_desk(store, lambda _: [HANK])
    bench = Workshop(store, clock).begin("reed-keyring")
    kept = len(store.events_after(bench.sitting.piece_id))
    with monkeypatch.context() as patch:

        def full(*_: object) -> int:
            raise Damaged("the desk is full")

        patch.setattr(Store, "add_to_desk", full)
        bench.sitting.jot(Ticked, what="reed.1", mark="cut")
    assert bench.sitting.trouble
    assert len(store.events_after(bench.sitting.piece_id)) == kept
    clock.go_on(5)
    assert bench.sitting.keep()
    assert len(store.events_after(bench.sitting.piece_id)) == kept + 1
    assert read_desk(store).seq == 2


def test_the_newest_layout_has_a_desk(tmp_path: Path) -> None:
    with Store(tmp_path / "coach.db") as store:
        assert read_desk(store).seq == 0
