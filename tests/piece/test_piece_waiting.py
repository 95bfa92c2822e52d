"""Counts that cannot be stored wait in memory, go on, and are stored when they can be."""

import sqlite3
from pathlib import Path

import pytest
from hand_clock import HandClock

from coach.piece import (
    Busy,
    CannotKeep,
    OutOfTurn,
    PieceError,
    Sitting,
    Store,
    TakenOver,
    look,
    start_piece,
)
from coach.piece.entering.project_diff import ProjectChange, adopt_project
from coach.piece.events import Counted
from coach.piece.storage import database as database_room
from coach.piece.storage import guarded_file
from coach.plan.from_text import read_plan

KNOTS = ["clove hitch"] * 40
RING = Path(__file__).parents[2] / "projects" / "reed-keyring.yaml"


def opened(store: Store, clock: HandClock) -> Sitting:
    piece_id = start_piece(
        store, clock, title="Tide belt", project_text="x", source="belt.yaml", total=len(KNOTS)
    )
    return Sitting(store, clock, piece_id, KNOTS)


def fill(store: Store) -> None:
    """Let the database grow no further, as on a full disk."""
    store._db.execute("CREATE TABLE filler (x BLOB)")
    store._db.execute("INSERT INTO filler VALUES (zeroblob(20000))")
    store._db.execute("PRAGMA wal_checkpoint(TRUNCATE)")


def full(self: Store, *_: object) -> None:
    """Stand for the database's own answer when no page can be had."""
    self._db.execute("PRAGMA max_page_count = 1")
    self._db.execute("BEGIN IMMEDIATE")
    try:
        with self.plain_errors():
            self._db.execute("INSERT INTO filler VALUES (zeroblob(2000000))")
    finally:
        if self._db.in_transaction:
            self._db.execute("ROLLBACK")


@pytest.fixture
def full_disk(monkeypatch: pytest.MonkeyPatch, store: Store) -> pytest.MonkeyPatch:
    """Let every writing meet a full disk until it is undone."""
    fill(store)
    monkeypatch.setattr(Store, "append_all", full)
    return monkeypatch


def test_a_full_disk_counts_on_in_memory_and_stores_all_when_there_is_room(
    store: Store, database: Path, clock: HandClock, full_disk: pytest.MonkeyPatch
) -> None:
    """SQLite's own full error; the counts are shown, told as waiting, and none is lost."""
    full_disk.undo()
    sitting = opened(store, clock)
    sitting.count(3)
    full_disk.setattr(Store, "append_all", full)
    for n in range(1, 6):
        clock.go_on(9)
        assert sitting.count().done == 3 + n
        assert sitting.waiting == n
        assert "disk is full" in str(sitting.trouble)
    with Store(database) as other:
        assert look(other, sitting.piece_id).done == 3
    full_disk.undo()
    clock.go_on(9)
    assert sitting.count().done == 9
    assert (sitting.waiting, sitting.trouble) == (0, None)
    with Store(database) as other:
        assert look(other, sitting.piece_id) == sitting.state
        counts = [e for e in other.events_after(1) if isinstance(e, Counted)]
    assert [e.from_done for e in counts] == [0, 3, 4, 5, 6, 7, 8]
    assert sitting.state.worked_ms == 6 * 9000, "the time in memory is worked time too"


def test_it_is_tried_again_by_itself_but_not_at_every_key(
    store: Store, clock: HandClock, full_disk: pytest.MonkeyPatch
) -> None:
    full_disk.undo()
    sitting = opened(store, clock)
    tries = []

    def count_tries(*_: object) -> None:
        tries.append(1)
        raise CannotKeep("no room")

    full_disk.setattr(Store, "append_all", count_tries)
    for _ in range(10):
        clock.go_on(0.2)
        sitting.count()
    assert len(tries) == 2
    full_disk.undo()
    clock.go_on(1)
    assert sitting.refresh().done == 10
    assert sitting.trouble is None


def test_a_count_that_was_stored_before_the_fault_is_not_doubled(
    store: Store, clock: HandClock, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The fault comes after the commit: what waits is found in the store already."""
    sitting = opened(store, clock)
    whole = Store.append_all

    def kept_but_torn(self: Store, *what: object) -> None:
        whole(self, *what)
        raise CannotKeep("torn after the commit")

    monkeypatch.setattr(Store, "append_all", kept_but_torn)
    sitting.count(2)
    assert sitting.waiting == 2
    monkeypatch.undo()
    assert sitting.keep()
    assert sitting.state.done == look(store, sitting.piece_id).done == 2


def test_what_waits_goes_after_what_another_coach_counted_meanwhile(
    store: Store, clock: HandClock, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Nothing of either is lost or doubled, and a count never leads out of the piece."""
    sitting = opened(store, clock)
    monkeypatch.setattr(Store, "append_all", lambda *_: (_ for _ in ()).throw(CannotKeep("no")))
    for n in (1, 2):
        sitting.count(n)
    sitting.take_back()
    monkeypatch.undo()
    other = Sitting(store, clock, sitting.piece_id, KNOTS)
    other.count(30)
    assert sitting.keep()
    assert sitting.state.done == 32
    assert look(store, sitting.piece_id) == sitting.state
    monkeypatch.setattr(Store, "append_all", lambda *_: (_ for _ in ()).throw(CannotKeep("no")))
    sitting.count(8)
    monkeypatch.undo()
    other.count(5)
    assert sitting.keep()
    assert sitting.state.done == len(KNOTS)


def test_a_file_that_is_taken_away_and_put_back_loses_nothing(
    store: Store, database: Path, clock: HandClock
) -> None:
    """A drive that is pulled out: SQLite itself would write on into a file that is gone."""
    sitting = opened(store, clock)
    sitting.count()
    away = database.with_name("pulled out")
    for ending in ("", "-wal", "-shm"):
        Path(f"{database}{ending}").rename(f"{away}{ending}")
    assert sitting.count().done == 2
    assert "not there any more" in str(sitting.trouble)
    assert not database.exists(), "no empty file is put in its place"
    for ending in ("", "-wal", "-shm"):
        Path(f"{away}{ending}").rename(f"{database}{ending}")
    assert sitting.keep()
    with Store(database) as other:
        assert look(other, sitting.piece_id).done == 2


def test_a_store_held_by_another_program_waits_in_memory(
    store: Store, database: Path, clock: HandClock, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(database_room, "RETRY_TIMEOUT_S", 0.0)
    sitting = opened(store, clock)
    store._db.execute("PRAGMA busy_timeout = 0")
    holder = sqlite3.connect(database, isolation_level=None)
    holder.execute("BEGIN IMMEDIATE")
    assert sitting.count().done == 1
    assert "Another program" in str(sitting.trouble)
    assert not sitting.keep()
    holder.execute("ROLLBACK")
    holder.close()
    assert sitting.keep()
    assert look(store, sitting.piece_id).done == 1


def test_a_file_that_cannot_be_opened_anew_is_tried_again(
    store: Store, clock: HandClock, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What keeps it shut is told as long as it lasts, and nothing else."""
    sitting = opened(store, clock)

    def busy(*_: object) -> None:
        raise Busy("Another program holds it.")

    monkeypatch.setattr(Store, "append_all", busy)
    monkeypatch.setattr(guarded_file, "open_connection", busy)
    sitting.count()
    for _ in range(3):
        clock.go_on(1)
        sitting.refresh()
        assert isinstance(sitting.trouble, Busy)
        with pytest.raises(Busy):
            store.pieces()
    monkeypatch.undo()
    clock.go_on(1)
    assert sitting.refresh().done == look(store, 1).done == 1
    assert sitting.trouble is None


def test_a_sitting_that_could_not_be_stored_from_its_start_is_stored_later(
    store: Store, clock: HandClock, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Even its opening waits, and gets a number that no other sitting has."""
    piece_id = opened(store, clock).piece_id
    monkeypatch.setattr(Store, "append_all", lambda *_: (_ for _ in ()).throw(CannotKeep("no")))
    sitting = Sitting(store, clock, piece_id, KNOTS)
    sitting.count(4)
    monkeypatch.undo()
    clock.go_on(3)
    other = Sitting(store, clock, piece_id, KNOTS)
    assert other.count().done == 1
    assert sitting.keep()
    sitting.count()
    assert look(store, piece_id).done == sitting.state.done == 6
    assert sitting.number != other.number


def test_a_piece_that_took_another_project_elsewhere_is_told(
    store: Store, clock: HandClock
) -> None:
    sitting = opened(store, clock)
    plan = read_plan(RING.read_text()).plan
    assert plan is not None
    adopt_project(
        store,
        clock,
        sitting.piece_id,
        ProjectChange(RING.read_text(), plan, (), same=True, place=3),
    )
    with pytest.raises(TakenOver, match="open"):
        sitting.count()
    assert look(store, sitting.piece_id).done == 3


def test_a_fault_while_looking_at_other_coaches_is_raised(
    store: Store, clock: HandClock, monkeypatch: pytest.MonkeyPatch
) -> None:
    sitting = opened(store, clock)
    monkeypatch.setattr(Store, "rows_after", lambda *_: (_ for _ in ()).throw(CannotKeep("no")))
    with pytest.raises(PieceError):
        sitting.refresh()


class Patient:
    """Stands before a store's writing and does not wait for ever: it is asked few times at most."""

    def __init__(self, store: Store, monkeypatch: pytest.MonkeyPatch, most: int = 5) -> None:
        self.asked = 0
        append_all = store.append_all

        def counted(*given: object) -> object:
            self.asked += 1
            assert self.asked <= most, "it goes round and round"
            return append_all(*given)  # type: ignore[arg-type]

        monkeypatch.setattr(store, "append_all", counted)


@pytest.mark.parametrize("waits", [False, True], ids=["at once", "after waiting"])
def test_a_count_behind_another_coachs_is_kept_though_nothing_tells_of_that_one(
    store: Store, database: Path, clock: HandClock, monkeypatch: pytest.MonkeyPatch, *, waits: bool
) -> None:
    """The stamp may not change: some network drives tell of no other's writing."""
    monkeypatch.setattr(store, "stamp", tuple)
    mine = opened(store, clock)
    with Store(database) as other_store:
        if waits:
            fill(store)
            with monkeypatch.context() as full_now:
                full_now.setattr(store, "append_all", lambda *given: full(store, *given))
                mine.count()
            assert mine.waiting == 1
        Sitting(other_store, clock, mine.piece_id, KNOTS).count(2)
        patient = Patient(store, monkeypatch)
        if waits:
            store._db.execute("PRAGMA max_page_count = 1073741823")
            assert mine.keep()
        else:
            mine.count()
        assert patient.asked <= 2
        assert (mine.state.done, mine.waiting, mine.trouble) == (3, 0, None)
        assert look(other_store, mine.piece_id).done == 3


def test_a_place_that_stays_taken_ends_in_trouble_with_the_count_kept_in_memory(
    store: Store, clock: HandClock, monkeypatch: pytest.MonkeyPatch
) -> None:
    mine = opened(store, clock)
    asked: list[object] = []

    def taken(*given: object) -> None:
        asked.append(given)
        assert len(asked) <= 5, "it goes round and round"
        raise OutOfTurn("Another coach has just written to this piece.")

    monkeypatch.setattr(store, "append_all", taken)
    mine.count()
    assert (mine.state.done, mine.waiting) == (1, 1)
    assert isinstance(mine.trouble, OutOfTurn)
    assert not mine.keep()
    assert (mine.state.done, mine.waiting) == (1, 1)
    monkeypatch.undo()
    assert mine.keep()
    assert (look(store, mine.piece_id).done, mine.waiting, mine.trouble) == (1, 0, None)
