"""Whose files they are: other files under an open piece are noticed, and nothing gets into them."""

import os
import shutil
import sqlite3
import sys
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

import pytest
from hand_clock import HandClock
from processes import Started, run_python

from coach.piece import NotOurs, PieceError, Sitting, Store, look, start_piece
from coach.piece.events import Counted
from coach.piece.export_import import export_piece, from_text, take_in_piece, to_text
from coach.piece.sitting.recorder import IDLE_MS, RETRY_MS
from coach.piece.storage import guarded_file
from coach.piece.storage.identity import NOBODY, identity_of_file

KNOTS = ["clove hitch"] * 400
ENDINGS = ("", "-wal", "-shm")


def begun(store: Store, clock: HandClock, name: str = "Ebb", made: int = 12) -> Sitting:
    """Begin a piece and count on it."""
    piece_id = start_piece(
        store, clock, title=name, project_text="x" * 3000, source="ebb.yaml", total=len(KNOTS)
    )
    sitting = Sitting(store, clock, piece_id, KNOTS)
    for _ in range(made):
        clock.go_on(9)
        sitting.count()
    return sitting


def alone(path: Path, tmp_path: Path) -> dict[str, int]:
    """Return how far the pieces are in a copy of the file alone, all sums looked at."""
    copy = tmp_path / "copied" / "coach.db"
    shutil.rmtree(copy.parent, ignore_errors=True)
    copy.parent.mkdir()
    shutil.copyfile(path, copy)
    with Store(copy) as store:
        store.check()
        return {piece.name: look(store, piece.id).done for piece in store.pieces()}


def of_layout_3(tmp_path: Path, _: HandClock) -> Path:
    """Return another maker's file that an earlier coach wrote."""
    path = tmp_path / "coach-3.db"
    shutil.copyfile(Path(__file__).with_name("layouts") / "coach-3.db", path)
    return path


def no_database(tmp_path: Path, _: HandClock) -> Path:
    """Return a file that is something else."""
    path = tmp_path / "list.txt"
    path.write_text("glaze, reed, tide-blue cord\n" * 900)
    return path


def hers(tmp_path: Path, clock: HandClock) -> Path:
    """Return another maker's file: her keyring, 17 made."""
    path = tmp_path / "hers" / "coach.db"
    with Store(path) as store:
        begun(store, clock, "Her keyring", 17)
    return path


def older(database: Path, tmp_path: Path) -> Path:
    """Return a copy of our own file as it is now, as a backup makes it."""
    copy = tmp_path / "older" / "coach.db"
    copy.parent.mkdir()
    with closing(sqlite3.connect(database)) as raw, closing(sqlite3.connect(copy)) as backup:
        raw.backup(backup)
    return copy


def moved(other: Path, database: Path) -> None:
    """Rename it over ours, as a tool does that keeps two folders alike."""
    other.replace(database)


def copied(other: Path, database: Path) -> None:
    """Write over ours, as `cp` does with a backup."""
    shutil.copyfile(other, database)


def with_its_folder(other: Path, database: Path) -> None:
    """Put another stick at the same mount point: ours is away with all that lies beside it."""
    database.parent.rename(database.parent.with_name("away"))
    database.parent.mkdir()
    other.replace(database)


WAYS = [moved, copied, with_its_folder]


def count_on(sitting: Sitting, clock: HandClock, counts: int) -> None:
    for _ in range(counts):
        clock.go_on(9)
        sitting.count()


@pytest.mark.parametrize("settled", [True, False], ids=["settled", "with a journal"])
@pytest.mark.parametrize("put", WAYS, ids=[way.__name__ for way in WAYS])
def test_nothing_gets_into_another_makers_file(
    database: Path,
    tmp_path: Path,
    clock: HandClock,
    put: Callable[[Path, Path], None],
    settled: bool,
) -> None:
    """Hers stays as it was to the last byte, ours goes on in memory, and the maker is told."""
    other = hers(tmp_path, clock)
    as_it_was = other.read_bytes()
    with Store(database) as store:
        sitting = begun(store, clock)
        if settled:
            sitting.settle()
        put(other, database)
        count_on(sitting, clock, 5)
        assert sitting.state.done == 17
        assert sitting.waiting == 5
        assert "your file back" in str(sitting.trouble)
        sitting.leave()
        assert not sitting.keep()
        carried = from_text(to_text(sitting.name, sitting.events))
    assert database.read_bytes() == as_it_was
    with Store(database) as store:
        store.check()
        assert [(p.name, look(store, p.id).done) for p in store.pieces()] == [("Her keyring", 17)]
        take_in_piece(store, carried)
        assert look(store, 2).done == 17, "what was offered another place is whole"


@pytest.mark.parametrize("more", [0, 2], ids=["settled", "with a journal"])
@pytest.mark.parametrize("put", WAYS, ids=[way.__name__ for way in WAYS])
def test_nothing_gets_into_an_older_copy_of_our_own(
    database: Path, tmp_path: Path, clock: HandClock, put: Callable[[Path, Path], None], more: int
) -> None:
    """A backup that is put back under an open piece stays a backup that can be read."""
    for since in (1, 40, 200):
        shutil.rmtree(tmp_path)
        tmp_path.mkdir()
        _put_back(database, tmp_path, clock, put, (since, more))


def _put_back(
    database: Path,
    tmp_path: Path,
    clock: HandClock,
    put: Callable[[Path, Path], None],
    counts: tuple[int, int],
) -> None:
    """Put a copy back that lacks so many counts, of which the last lie in the journal alone."""
    since, more = counts
    with Store(database) as store:
        sitting = begun(store, clock, made=50)
        copy = older(database, tmp_path)
        as_it_was = copy.read_bytes()
        for _ in range(since):
            clock.go_on(9)
            sitting.count()
        sitting.settle()
        for _ in range(more):
            sitting.count()
        put(copy, database)
        count_on(sitting, clock, 3)
        assert sitting.state.done == 53 + since + more
        assert sitting.waiting == 3
        assert isinstance(sitting.trouble, NotOurs)
        sitting.leave()
        assert not sitting.keep()
        carried = from_text(to_text(sitting.name, sitting.events))
    assert database.read_bytes() == as_it_was
    with Store(database) as store:
        store.check()
        take_in_piece(store, carried)
        assert look(store, 1).done == 53 + since + more


def test_an_older_copy_that_the_journal_makes_whole_again_is_ours(
    database: Path, tmp_path: Path, clock: HandClock
) -> None:
    """It was taken since the journal was begun, which holds all that is missing in it."""
    with Store(database) as store:
        sitting = begun(store, clock, made=50)
        copy = older(database, tmp_path)
        for _ in range(40):
            sitting.count()
        copied(copy, database)
        count_on(sitting, clock, 3)
        assert (sitting.waiting, sitting.trouble) == (0, None)
    assert alone(database, tmp_path) == {"Ebb": 93}


@pytest.mark.parametrize("kind", [of_layout_3, no_database])
@pytest.mark.parametrize("put", WAYS, ids=[way.__name__ for way in WAYS])
def test_what_is_no_database_of_this_layout_stays_as_it_is(
    database: Path,
    tmp_path: Path,
    clock: HandClock,
    put: Callable[[Path, Path], None],
    kind: Callable[[Path, HandClock], Path],
) -> None:
    """It is neither brought up to date nor put aside, however often it is tried again."""
    other = kind(tmp_path, clock)
    as_it_was = other.read_bytes()
    with Store(database) as store:
        sitting = begun(store, clock)
        put(other, database)
        count_on(sitting, clock, 5)
        assert sitting.waiting == 5
        assert isinstance(sitting.trouble, NotOurs)
        sitting.leave()
    assert database.read_bytes() == as_it_was


def test_ours_put_back_goes_on_by_itself(database: Path, tmp_path: Path, clock: HandClock) -> None:
    """The other stick is taken out and the own one put in again."""
    other = hers(tmp_path, clock)
    with Store(database) as store:
        sitting = begun(store, clock)
        with_its_folder(other, database)
        count_on(sitting, clock, 4)
        assert sitting.waiting == 4
        shutil.rmtree(database.parent)
        database.parent.with_name("away").rename(database.parent)
        clock.go_on(RETRY_MS / 1000)
        assert sitting.refresh().done == 16
        assert (sitting.waiting, sitting.trouble) == (0, None)
        count_on(sitting, clock, 1)
        assert look(store, sitting.piece_id) == sitting.state


@pytest.mark.parametrize(
    "spoil",
    [
        "UPDATE identity SET id = 'another'",
        "UPDATE identity SET writes = 3",
        "UPDATE piece SET uid = 'another'",
        "UPDATE event SET sum = sum + 1 WHERE seq = 14",
        "DELETE FROM event WHERE seq = 14",
    ],
)
def test_what_it_is_known_by_is_looked_at_before_each_count(
    store: Store, database: Path, clock: HandClock, spoil: str
) -> None:
    """Database, writings, piece and last entry, each changed where SQLite itself sees it."""
    sitting = begun(store, clock)
    with closing(sqlite3.connect(database)) as raw:
        raw.execute(spoil)
        raw.commit()
        held = raw.execute("SELECT count(*) FROM event").fetchone()
        assert sitting.count().done == 13
        assert (sitting.waiting, isinstance(sitting.trouble, NotOurs)) == (1, True)
        assert raw.execute("SELECT count(*) FROM event").fetchone() == held


def test_no_piece_is_begun_in_another_makers_file(
    database: Path, tmp_path: Path, clock: HandClock
) -> None:
    """The list of pieces stands open while the sticks are changed."""
    other = hers(tmp_path, clock)
    with Store(database) as store:
        begun(store, clock)
        with_its_folder(other, database)
        with pytest.raises(NotOurs):
            begun(store, clock, "Flood")
        with pytest.raises(NotOurs):
            store.pieces()
    assert alone(database, tmp_path) == {"Her keyring": 17}


def test_it_is_told_before_the_next_key(database: Path, tmp_path: Path, clock: HandClock) -> None:
    """A bench looks twice a second; nothing waits yet, and still there is trouble to tell."""
    other = hers(tmp_path, clock)
    with Store(database) as store:
        sitting = begun(store, clock)
        sitting.refresh()
        assert sitting.trouble is None
        moved(other, database)
        assert sitting.refresh().done == 12
        assert (sitting.waiting, isinstance(sitting.trouble, NotOurs)) == (0, True)


@pytest.mark.parametrize("put", WAYS, ids=[way.__name__ for way in WAYS])
def test_a_copy_that_went_another_way_is_not_ours(
    database: Path, tmp_path: Path, clock: HandClock, put: Callable[[Path, Path], None]
) -> None:
    """It has the same id and more writings; only the last entry is not the one that was left."""
    away = tmp_path / "away.db"
    with Store(database) as store:
        begun(store, clock)
    shutil.copyfile(database, away)
    with Store(away) as store:
        there = Sitting(store, clock, 1, KNOTS)
        count_on(there, clock, 30)
    with Store(database) as store:
        sitting = Sitting(store, clock, 1, KNOTS)
        count_on(sitting, clock, 2)
        sitting.settle()
        put(away, database)
        count_on(sitting, clock, 2)
        assert (sitting.state.done, sitting.waiting) == (16, 2)
        assert "as you left it" in str(sitting.trouble)
    assert alone(database, tmp_path) == {"Ebb": 42}


def test_the_same_file_written_anew_is_ours(
    database: Path, tmp_path: Path, clock: HandClock
) -> None:
    """A tool that writes files anew but whole does no harm, and costs a second in memory."""
    with Store(database) as store:
        sitting = begun(store, clock)
        sitting.settle()
        copy = tmp_path / "copy.db"
        shutil.copyfile(database, copy)
        moved(copy, database)
        count_on(sitting, clock, 1)
        assert sitting.waiting == 1
        count_on(sitting, clock, 2)
        assert (sitting.waiting, sitting.trouble) == (0, None)
    assert alone(database, tmp_path) == {"Ebb": 15}


@pytest.mark.parametrize("taken", [("-wal",), ("-shm",), ("-wal", "-shm")])
def test_a_journal_that_is_taken_away_costs_nothing(
    database: Path, tmp_path: Path, clock: HandClock, taken: tuple[str, ...]
) -> None:
    """SQLite would write on into a file without a name, and a kill would take the piece along."""
    with Store(database) as store:
        sitting = begun(store, clock)
        for ending in taken:
            Path(f"{database}{ending}").unlink()
        sitting.refresh()
        assert "journal" in str(sitting.trouble)
        assert alone(database, tmp_path) == {"Ebb": 12}, "as a kill would leave it"
        clock.go_on(0.1)
        assert sitting.count().done == 13
        assert sitting.waiting == 1
        clock.go_on(RETRY_MS / 1000)
        assert sitting.count().done == 14
        assert (sitting.waiting, sitting.trouble) == (0, None)
        assert Path(f"{database}-wal").exists()
        with Store(database) as other:
            assert look(other, 1).done == 14


def test_a_journal_that_is_taken_from_two_windows_costs_nothing(
    database: Path, tmp_path: Path, clock: HandClock
) -> None:
    """What both lock is still there, so either may write the journal into the file."""
    with Store(database) as store, Store(database) as window:
        sitting = begun(store, clock)
        other = Sitting(window, clock, 1, KNOTS)
        other.count()
        Path(f"{database}-wal").unlink()
        count_on(sitting, clock, 1)
        assert alone(database, tmp_path) == {"Ebb": 13}
        count_on(other, clock, 1)
        count_on(sitting, clock, 1)
        count_on(other, clock, 1)
        assert (sitting.waiting, other.waiting) == (0, 0)
        assert sitting.refresh().done == other.refresh().done == 17
    assert alone(database, tmp_path) == {"Ebb": 17}


def test_counts_that_a_lost_journal_took_along_are_told(database: Path, clock: HandClock) -> None:
    """Another program keeps SQLite from writing it into the file, so they are in memory alone."""
    with Store(database) as store:
        sitting = begun(store, clock)
        with Started([sys.executable, "-c", _HOLDS_IT, str(database)]) as program:
            program.stdout.readline()
            for ending in ("-wal", "-shm"):
                Path(f"{database}{ending}").unlink()
            count_on(sitting, clock, 2)
            program.communicate()
        assert (sitting.state.done, sitting.waiting) == (14, 2)
        assert "older copy" in str(sitting.trouble)
        assert [e.count for e in sitting.events if isinstance(e, Counted)] == [1] * 14


_HOLDS_IT = """
import sqlite3, sys
held = sqlite3.connect(sys.argv[1])
print(held.execute("SELECT count(*) FROM event").fetchone(), flush=True)
sys.stdin.read()
"""


def test_a_bench_alone_never_looks_through_its_own_file(
    store: Store, clock: HandClock, monkeypatch: pytest.MonkeyPatch
) -> None:
    """It wrote itself what is new in it, in passing and while it rested: no key waits for that."""
    looks: list[object] = []
    monkeypatch.setattr(guarded_file, "check_if_small", lambda *what: looks.append(what))
    sitting = begun(store, clock)
    as_begun = store.path.stat().st_size
    for _ in range(350):
        sitting.count()
    assert store.path.stat().st_size > as_begun, "SQLite has written the journal into the file"
    for _ in range(3):
        clock.go_on(60)
        sitting.refresh()
        sitting.count()
    assert looks == []


def test_a_piece_that_another_window_replaced_is_not_written_into(
    store: Store, database: Path, clock: HandClock
) -> None:
    """`import --replace` under an open piece: the number is the same, the piece is not."""
    sitting = begun(store, clock)
    last = f'"at_ms": {clock.now_ms()}'
    other_way = export_piece(store, 1).replace(last, f'"at_ms": {clock.now_ms() + 1}')
    with Store(database) as window:
        take_in_piece(window, from_text(other_way), instead=True)
        ((piece_id, uid),) = [(piece.id, piece.uid) for piece in window.pieces()]
    assert (piece_id, uid) == (sitting.piece_id, from_text(other_way).uid)
    count_on(sitting, clock, 2)
    assert (sitting.state.done, sitting.waiting) == (14, 2)
    assert isinstance(sitting.trouble, NotOurs)
    with Store(database) as window:
        assert look(window, piece_id).done == 12
        window.check()


def test_a_file_alone_holds_everything_once_it_rests(
    database: Path, tmp_path: Path, clock: HandClock
) -> None:
    """Copied while the bench stands open; not at every count, but soon after the last."""
    with Store(database) as store:
        sitting = begun(store, clock)
        clock.go_on(IDLE_MS / 1000 - 0.1)
        sitting.refresh()
        assert alone(database, tmp_path) != {"Ebb": 12}
        clock.go_on(0.1)
        sitting.refresh()
        assert alone(database, tmp_path) == {"Ebb": 12}
        assert Path(f"{database}-wal").stat().st_size == 0
        written = database.stat().st_mtime_ns
        clock.go_on(60)
        sitting.refresh()
        assert database.stat().st_mtime_ns == written, "what rests is not written again"


def test_a_file_alone_holds_everything_when_one_of_two_leaves(
    store: Store, database: Path, tmp_path: Path, clock: HandClock
) -> None:
    """The other window keeps the journal open, so closing alone would leave the counts in it."""
    sitting = begun(store, clock)
    with Store(database) as window:
        other = Sitting(window, clock, 1, KNOTS)
        other.count()
        other.leave()
        assert alone(database, tmp_path) == {"Ebb": 13}
    assert sitting.refresh().done == 13


def test_a_reader_in_the_way_is_not_waited_for(
    store: Store, database: Path, clock: HandClock
) -> None:
    sitting = begun(store, clock)
    with closing(sqlite3.connect(database, isolation_level=None)) as reader:
        reader.execute("BEGIN")
        reader.execute("SELECT count(*) FROM event").fetchone()
        sitting.count()
        sitting.settle()
        assert sitting.trouble is None
        assert sitting.count().done == 14
    assert look(store, 1).done == 14


def test_looking_at_the_file_does_not_unlock_it(
    store: Store, database: Path, clock: HandClock
) -> None:
    """Another program that closes it last would take the journal away; POSIX locks are so lost."""
    begun(store, clock)
    identity_of_file(database)
    run_python("-c", _HOLDS_IT, str(database), check=True)
    assert Path(f"{database}-wal").exists()
    store.see_whose()


def test_every_database_and_every_piece_has_an_id_of_its_own(
    store: Store, tmp_path: Path, clock: HandClock
) -> None:
    begun(store, clock)
    begun(store, clock, "Flood")
    with Store(tmp_path / "other.db") as other:
        begun(other, clock)
        ids = [store._known.id, other._known.id]
        uids = [piece.uid for piece in (*store.pieces(), *other.pieces())]
    assert len({*ids, *uids}) == 5
    assert {len(one) for one in (*ids, *uids)} == {32}


def test_a_piece_keeps_its_id_where_it_is_taken(
    store: Store, tmp_path: Path, clock: HandClock
) -> None:
    """Beside itself under another name it is another piece; a file that tells none gives one."""
    begun(store, clock)
    text = export_piece(store, 1)
    uid = store.pieces()[0].uid
    with Store(tmp_path / "other.db") as other:
        take_in_piece(other, from_text(text))
        assert other.pieces()[0].uid == uid
        take_in_piece(other, from_text(text), "Ebb, again")
        take_in_piece(other, from_text(text.replace(uid, "<b>none</b>")), "Ebb, of a stranger")
        uids = {piece.uid for piece in other.pieces()}
        assert (len(uids), {len(one) for one in uids}) == (3, {32})


def test_a_writing_that_fails_leaves_the_files_known(store: Store, clock: HandClock) -> None:
    """The number of writings is taken back with what was written."""
    sitting = begun(store, clock)
    with pytest.raises(PieceError), store.atomic():
        store._db.execute("INSERT INTO piece (id) VALUES (9)")
    assert sitting.count().done == 13
    assert [e.count for e in store.events_after(1) if isinstance(e, Counted)] == [1] * 13


def test_a_second_look_at_the_database_keeps_the_journal_in_the_hands_of_the_first(
    store: Store, clock: HandClock
) -> None:
    """A program that comes and goes takes the journal for its own where nobody holds the file."""
    sitting = begun(store, clock, made=1)
    with Store(store.path):
        pass
    other = (
        "import sqlite3, sys\none = sqlite3.connect(sys.argv[1])\n"
        "one.execute('SELECT count(*) FROM event').fetchone()\none.close()"
    )
    run_python("-c", other, store.path, check=True)
    count_on(sitting, clock, 1)
    assert not sitting.trouble
    assert look(store, sitting.piece_id).done == 2


def test_a_file_that_says_nothing_yet_is_ours(tmp_path: Path, clock: HandClock) -> None:
    """All of it lies in the journal, which another coach reads that opened it at the same time."""
    new = tmp_path / "new.db"
    with closing(sqlite3.connect(new, isolation_level=None)) as reader:
        reader.execute("PRAGMA journal_mode = WAL")
        reader.execute("BEGIN")
        reader.execute("SELECT count(*) FROM sqlite_master").fetchone()
        with Store(new) as store:
            assert identity_of_file(new) == NOBODY
            os.utime(new, ns=(1, 1))  # as when the other one is writing the journal into it
            sitting = begun(store, clock)
            count_on(sitting, clock, 5)
            reader.execute("COMMIT")
            assert not sitting.trouble
            assert look(store, 1).done == 17
