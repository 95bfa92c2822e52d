"""The database: what it keeps, and what it refuses.

Needs POSIX: rights of files and what Linux tells of processes and drives.
"""

import sqlite3
from collections.abc import Callable
from pathlib import Path

import pytest

from coach.piece import Busy, CannotKeep, Clock, Damaged, NewerVersion, OutOfTurn, Store, look
from coach.piece.events import Begun, Counted, Event, Opened
from coach.piece.folding import fold
from coach.piece.service import start_piece
from coach.piece.state import State
from coach.piece.storage import database as database_room
from coach.piece.storage.event_rows import placed_sum, row_of
from coach.piece.storage.migrations import MIGRATIONS


def begin(store: Store, name: str = "Reed keyring", at_ms: int = 0) -> tuple[int, State]:
    event = Begun(
        at_ms=at_ms, tick_ms=0, sitting=0, title=name, project_text="x", source="reed", total=9
    )
    state = fold(State(), event)
    with store.atomic():
        return store.begin(name, state, event), state


def counted(state: State) -> Event:
    return Counted(at_ms=5, tick_ms=5, sitting=0, count=1, from_done=state.done)


def test_events_come_back_in_their_order(store: Store) -> None:
    piece_id, state = begin(store)
    for _ in range(3):
        event = counted(state)
        state = fold(state, event)
        store.append(piece_id, state, event)
    assert [e.from_done for e in store.events_after(piece_id, 1)] == [0, 1, 2]
    assert len(store.events_after(piece_id)) == 4
    assert store.events_after(piece_id, 4) == ()


def test_what_is_appended_is_there_for_others_at_once(store: Store, database: Path) -> None:
    piece_id, state = begin(store)
    event = counted(state)
    store.append(piece_id, fold(state, event), event)
    with Store(database) as other:
        assert other.events_after(piece_id, 1) == (event,)
        assert other.piece(piece_id).done == 1


def test_two_events_never_stand_in_one_place(store: Store) -> None:
    """The second writer is told, and neither its event nor its summary is kept."""
    piece_id, state = begin(store)
    event = counted(state)
    store.append(piece_id, fold(state, event), event)
    late = Counted(at_ms=7, tick_ms=7, sitting=0, count=4, from_done=0)
    with pytest.raises(OutOfTurn):
        store.append(piece_id, fold(state, late), late)
    assert store.events_after(piece_id, 1) == (event,)
    assert store.piece(piece_id).done == 1


def test_an_event_of_no_piece_is_refused(store: Store) -> None:
    _, state = begin(store)
    event = counted(state)
    with pytest.raises(Damaged):
        store.append(77, fold(state, event), event)


def test_atomic_keeps_nothing_when_it_fails_and_raises_the_first_error(store: Store) -> None:
    def half_done() -> None:
        with store.atomic():
            event = Begun(
                at_ms=0, tick_ms=0, sitting=0, title="t", project_text="", source="", total=1
            )
            store.begin("Clay belt", fold(State(), event), event)
            raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        half_done()
    assert store.pieces() == []
    begin(store, "Clay belt")


def test_the_first_error_is_not_hidden_by_the_rollback(store: Store) -> None:
    """Closing the file inside makes the rollback fail too; what is told is what came first."""

    def torn() -> None:
        with store.atomic():
            store.close()
            raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        torn()


def test_a_closed_store_gives_our_own_error(store: Store) -> None:
    store.close()
    with pytest.raises(CannotKeep):
        store.pieces()


def test_pieces_are_listed_last_touched_first(store: Store) -> None:
    for name, at_ms in (("early", 100), ("late", 300), ("middle", 200)):
        begin(store, name, at_ms)
    assert [piece.name for piece in store.pieces()] == ["late", "middle", "early"]


def test_a_full_shelf_is_listed_quickly(store: Store, database: Path) -> None:
    """A hundred pieces of two thousand events each: the list reads no event at all."""
    ids = [begin(store, f"piece {i}", i)[0] for i in range(100)]
    opened = row_of(1, 2, Opened(at_ms=0, tick_ms=0, sitting=2))
    raw = sqlite3.connect(database)
    raw.executemany(
        "INSERT INTO event VALUES (?, ?, ?, ?, ?, ?)",
        [(piece_id, seq, *opened[1:]) for piece_id in ids for seq in range(2, 2001)],
    )
    raw.commit()
    steps = 0

    def step() -> int:
        nonlocal steps
        steps += 1
        return 0

    raw.close()
    store._db.set_progress_handler(step, 100)
    assert len(store.pieces()) == 100
    assert steps < 100, "hundreds of instructions a piece would mean that events were read"


def test_the_settings_that_make_a_count_last(store: Store) -> None:
    def pragma(name: str) -> object:
        return store._db.execute(f"PRAGMA {name}").fetchone()[0]

    assert pragma("journal_mode") == "wal"
    assert pragma("synchronous") == 2, "2 is FULL"
    assert pragma("busy_timeout") == 5000
    assert pragma("user_version") == len(MIGRATIONS)


def test_all_files_are_for_their_owner_alone(store: Store, database: Path) -> None:
    begin(store)
    files = sorted(database.parent.iterdir())
    assert [file.name for file in files] == ["coach.db", "coach.db-shm", "coach.db-wal"]
    assert {file.stat().st_mode & 0o777 for file in files} == {0o600}


def written_by_a_newer_coach(path: Path) -> None:
    Store(path).close()
    raw = sqlite3.connect(path)
    raw.execute("PRAGMA user_version = 99")
    raw.close()


def of_another_program(path: Path) -> None:
    raw = sqlite3.connect(path)
    raw.execute("CREATE TABLE recipe (name TEXT)")
    raw.close()


def a_shopping_list(path: Path) -> None:
    path.write_text("glaze, reed, tide-blue cord\n" * 50)


def cut_short(path: Path) -> None:
    with Store(path) as store:
        for i in range(40):
            begin(store, f"piece {i}")
    path.write_bytes(path.read_bytes()[:4096])


def without_a_table(path: Path) -> None:
    Store(path).close()
    raw = sqlite3.connect(path)
    raw.execute("DROP TABLE event")
    raw.execute("DROP TABLE piece")
    raw.close()


@pytest.mark.parametrize(
    ("spoil", "error", "words"),
    [
        (written_by_a_newer_coach, NewerVersion, r"newer coach .*99"),
        (of_another_program, Damaged, "another program"),
        (a_shopping_list, Damaged, "not a database"),
        (cut_short, Damaged, "malformed"),
        (without_a_table, Damaged, "no such table"),
    ],
)
def test_what_is_not_ours_is_refused_and_left_as_it_was(
    tmp_path: Path, spoil: Callable[[Path], None], error: type[Exception], words: str
) -> None:
    """The message names the file, and not a byte of it is changed."""
    path = tmp_path / "coach.db"
    spoil(path)
    before = path.read_bytes()

    def use() -> None:
        with Store(path) as store:
            store.pieces()

    with pytest.raises(error, match=words) as told:
        use()
    assert str(path) in str(told.value)
    assert path.read_bytes() == before


def test_an_empty_file_is_a_new_database(tmp_path: Path) -> None:
    """It is what is left when the machine stops right after the file was made."""
    (tmp_path / "coach.db").touch()
    with Store(tmp_path / "coach.db") as store:
        assert store.pieces() == []


@pytest.mark.parametrize("place", ["list/coach.db", "/proc/coach/coach.db"])
def test_a_place_that_cannot_hold_it_is_told(tmp_path: Path, place: str) -> None:
    (tmp_path / "list").write_text("glaze")
    with pytest.raises(CannotKeep, match="COACH_HOME"):
        Store(tmp_path / place)


def test_a_file_held_by_another_program_is_told(
    store: Store, database: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(database_room, "BUSY_TIMEOUT_S", 0.0)
    with store.atomic(), Store(database) as other, pytest.raises(Busy, match="Another program"):
        begin(other)


def test_a_full_disk_is_told_and_the_count_is_not_kept(store: Store) -> None:
    """The database may grow no further: the event is refused, and works again with room."""
    piece_id, state = begin(store)
    (pages,) = store._db.execute("PRAGMA page_count").fetchone()
    store._db.execute(f"PRAGMA max_page_count = {pages}")
    event = Begun(
        at_ms=0, tick_ms=0, sitting=0, title="", project_text="x" * 99_999, source="", total=1
    )
    with pytest.raises(CannotKeep, match="full"):
        store.append(piece_id, State(seq=2), event)
    store._db.execute("PRAGMA max_page_count = 100000")
    event = counted(state)
    store.append(piece_id, fold(state, event), event)
    assert store.events_after(piece_id, 1) == (event,)


@pytest.mark.parametrize(
    ("spoil", "error"),
    [
        ("UPDATE event SET data = '{'", Damaged),
        ("UPDATE event SET data = x'7b'", Damaged),
        ("UPDATE event SET data = '{', sum = sum_of(piece, seq, kind, at, '{')", Damaged),
        ("UPDATE event SET data = '[]', sum = sum_of(piece, seq, kind, at, '[]')", Damaged),
        ("UPDATE event SET at = 'noon', sum = sum_of(piece, seq, kind, 'noon', data)", Damaged),
        ("UPDATE event SET at = '2031' || substr(at, 5)", Damaged),
        ("UPDATE event SET sum = sum + 1", Damaged),
        ("UPDATE event SET seq = seq + 2", Damaged),
        ("UPDATE event SET piece = piece + 1", Damaged),
        ("UPDATE event SET data = replace(data, 'Tide', 'Tile')", Damaged),
        ("DELETE FROM event", Damaged),
        ("UPDATE event SET kind = 'x', sum = sum_of(piece, seq, 'x', at, data)", NewerVersion),
    ],
)
def test_a_piece_that_cannot_be_read_is_told(
    store: Store, clock: Clock, spoil: str, error: type[Exception]
) -> None:
    """Changed, moved to another place, without its sum, lost, or of a coach to come."""
    piece_id = start_piece(store, clock, title="Tide belt", project_text="", source="", total=3)
    store._db.create_function(
        "sum_of", 5, lambda piece, seq, *texts: placed_sum(piece, seq, *map(str.encode, texts))
    )
    store._db.execute("PRAGMA foreign_keys = OFF")
    store._db.execute(spoil)
    with pytest.raises(error, match=r"[Pp]iece"):
        look(store, piece_id)


def test_two_entries_that_changed_places_are_noticed(store: Store) -> None:
    """Each is whole in itself, and both would fold: the sum says where an entry belongs."""
    piece_id, state = begin(store)
    for at_ms in (5, 6):
        event = Opened(at_ms=at_ms, tick_ms=5, sitting=2)
        state = fold(state, event)
        store.append(piece_id, state, event)
    assert [e.at_ms for e in store.events_after(piece_id, 1)] == [5, 6]
    for old, new in ((2, 7), (3, 2), (7, 3)):
        store._db.execute("UPDATE event SET seq = ? WHERE seq = ?", (new, old))
    with pytest.raises(Damaged, match="not as it was written"):
        store.events_after(piece_id)
