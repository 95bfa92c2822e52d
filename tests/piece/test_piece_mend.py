"""Damaged databases: recognised, put aside, read as far as they can be; snapshots.

Needs POSIX: rights of files.
"""

import random
import sqlite3
from collections.abc import Callable
from pathlib import Path

import pytest
from hand_clock import HandClock

from coach.piece import Damaged, NewerVersion, PieceError, Sitting, Store, look, start_piece
from coach.piece.events import Counted
from coach.piece.rescue.recovery import make_anew, recover, restore_snapshot, sound_snapshots
from coach.piece.storage import store as store_room
from coach.piece.storage.snapshots import MOST_KEPT, snapshots

PROJECT = (Path(__file__).parents[2] / "projects" / "tide-band.yaml").read_text()
TOTAL, MADE = 200, 60


def filled(database: Path, clock: HandClock, pieces: int = 4) -> None:
    """Keep pieces of sixty counts each."""
    with Store(database) as store:
        for n in range(pieces):
            name = ("Ebb", "Flood", "Slack", "Neap")[n % 4]
            piece_id = start_piece(
                store, clock, title=name, project_text=PROJECT, source="x", total=TOTAL
            )
            sitting = Sitting(store, clock, piece_id, ["clove hitch"] * TOTAL)
            for _ in range(MADE):
                clock.go_on(9)
                sitting.count()


def flipped(data: bytes, rng: random.Random, most: int) -> bytes:
    """Return bytes with up to so many bits flipped."""
    torn = bytearray(data)
    for _ in range(rng.randint(1, most)):
        torn[rng.randrange(len(torn))] ^= 1 << rng.randrange(8)
    return bytes(torn)


def counts(database: Path) -> dict[str, int]:
    with Store(database) as store:
        store.check()
        return {piece.name: look(store, piece.id).done for piece in store.pieces()}


def test_flipped_bits_never_give_other_counts(tmp_path: Path, clock: HandClock) -> None:
    """Either nothing of what was kept is touched, or the damage is noticed and mended."""
    rng = random.Random(11)  # noqa: S311 - places, no secrets
    database = tmp_path / "coach.db"
    filled(database, clock)
    whole = database.read_bytes()
    for _ in range(30):
        database.write_bytes(flipped(whole, rng, 6))
        try:
            assert counts(database) == dict.fromkeys(("Ebb", "Flood", "Slack", "Neap"), MADE)
        except NewerVersion:
            continue
        except Damaged:
            torn = database.read_bytes()
            found = recover(database)
            aside = make_anew(database, found.pieces, clock.now_ms())
            assert aside.read_bytes() == torn, "not a byte of the damaged file is changed"
            mended = counts(database)
            assert mended == {p.carried.name: p.state.done for p in found.pieces}
            assert all(done <= MADE for done in mended.values())
            aside.unlink()


def test_one_lost_entry_costs_no_count(tmp_path: Path, clock: HandClock) -> None:
    """The next count says how many were made before it."""
    database = tmp_path / "coach.db"
    filled(database, clock, 1)
    raw = sqlite3.connect(database)
    raw.execute(
        "UPDATE event SET data = replace(data, '\"count\":1', '\"count\":7') WHERE seq = 20"
    )
    raw.execute("DELETE FROM event WHERE seq IN (30, 31)")
    raw.commit()
    raw.close()
    with pytest.raises(Damaged, match="mend"):
        counts(database)
    (piece,) = recover(database).pieces
    assert piece.state.done == MADE
    counts_at_once = [e.count for e in piece.carried.events if isinstance(e, Counted)]
    assert sorted(counts_at_once) == [1] * (MADE - 2) + [2], "the changed count is not taken"
    assert piece.carried.name == "Ebb"
    assert piece.state.project_text == PROJECT


def test_what_a_journal_still_holds_is_recovered_too(tmp_path: Path, clock: HandClock) -> None:
    """The machine stopped: the counts are in the journal alone, and both heads are gone."""
    database, away = tmp_path / "coach.db", tmp_path / "away" / "coach.db"
    away.parent.mkdir()
    with Store(database) as store:
        piece_id = start_piece(
            store, clock, title="Ebb", project_text=PROJECT, source="", total=TOTAL
        )
        Sitting(store, clock, piece_id, ["clove hitch"] * TOTAL).count(17)
        journal = Path(f"{database}-wal").read_bytes()
    Path(f"{away}-wal").write_bytes(b"\x00" * 32 + journal[32:])
    away.write_bytes(b"\x00" * 4096)
    with pytest.raises(PieceError):
        counts(away)
    assert [(p.carried.name, p.state.done) for p in recover(away).pieces] == [("Ebb", 17)]


def cut_short(path: Path) -> None:
    path.write_bytes(path.read_bytes()[:9000])


def no_database(path: Path) -> None:
    path.write_text("glaze, reed, tide-blue cord\n" * 50)


def newer(path: Path) -> None:
    raw = sqlite3.connect(path)
    raw.execute("PRAGMA user_version = 99")
    raw.close()


def journal_of_another(path: Path) -> None:
    """A journal beside the file that belongs to another one, and rolls it into ruins."""
    other = path.with_name("other.db")
    other.unlink(missing_ok=True)
    raw = sqlite3.connect(other)
    raw.execute("PRAGMA journal_mode = WAL")
    raw.execute("CREATE TABLE recipe (name TEXT)")
    raw.executemany("INSERT INTO recipe VALUES (?)", [("x" * 900,)] * 60)
    raw.commit()
    Path(f"{path}-wal").write_bytes(Path(f"{other}-wal").read_bytes())
    raw.close()


@pytest.mark.parametrize("spoil", [cut_short, no_database, newer, journal_of_another])
def test_what_cannot_be_read_is_put_aside_under_a_dated_name(
    tmp_path: Path, clock: HandClock, spoil: Callable[[Path], None]
) -> None:
    """Twice on one day: both are kept under names of their own."""
    for number in ("", "-2"):
        database = tmp_path / "coach.db"
        filled(database, clock, 2)
        spoil(database)
        before = database.read_bytes()
        with pytest.raises((Damaged, NewerVersion)):
            counts(database)
        aside = make_anew(database, recover(database).pieces, clock.now_ms())
        assert aside.name == f"coach-damaged-2030-03-17{number}.db"
        assert aside.read_bytes() == before
        assert aside.stat().st_mode & 0o777 == database.stat().st_mode & 0o777 == 0o600
        counts(database)
        for ending in ("", "-wal", "-shm"):
            Path(f"{database}{ending}").unlink(missing_ok=True)


def leftover_journal(path: Path) -> None:
    Path(f"{path}-journal").write_bytes(b"\xd9\xd5\x05\xf9\x20\xa1\x63\xd7" + b"\xff" * 600)


def torn_journal(path: Path) -> None:
    Path(f"{path}-wal").write_bytes(b"\x37\x7f\x06\x82" + bytes(range(256)) * 40)


@pytest.mark.parametrize("spoil", [leftover_journal, torn_journal])
def test_a_journal_left_over_changes_nothing(
    tmp_path: Path, clock: HandClock, spoil: Callable[[Path], None]
) -> None:
    database = tmp_path / "coach.db"
    filled(database, clock, 2)
    spoil(database)
    assert counts(database) == {"Ebb": MADE, "Flood": MADE}


def test_each_sitting_leaves_a_snapshot_and_five_are_kept(
    store: Store, database: Path, clock: HandClock
) -> None:
    piece_id = start_piece(store, clock, title="Ebb", project_text=PROJECT, source="x", total=TOTAL)
    for _ in range(7):
        sitting = Sitting(store, clock, piece_id, ["clove hitch"] * TOTAL)
        sitting.count()
        clock.go_on(3600)
        sitting.leave()
    kept = snapshots(database)
    assert len(kept) == MOST_KEPT
    assert [done["Ebb"] for _, _, done in sound_snapshots(database)] == [7, 6, 5, 4, 3]
    assert {path.stat().st_mode & 0o777 for path in kept} == {0o600}
    assert {path.name[:16] for path in kept} == {"coach-2030-03-17", "coach-2030-03-18"}


def test_a_damaged_database_pushes_no_snapshot_out(
    store: Store, database: Path, clock: HandClock
) -> None:
    piece_id = start_piece(store, clock, title="Ebb", project_text=PROJECT, source="x", total=TOTAL)
    sitting = Sitting(store, clock, piece_id, ["clove hitch"] * TOTAL)
    sitting.count()
    sitting.leave()
    before = snapshots(database)
    store._db.execute("UPDATE event SET data = data || 'x'")
    assert not store.snapshot(clock.now_ms() + 1000)
    assert snapshots(database) == before


def test_going_back_to_a_snapshot_keeps_the_damaged_file(database: Path, clock: HandClock) -> None:
    with Store(database) as store:
        piece_id = start_piece(
            store, clock, title="Ebb", project_text=PROJECT, source="x", total=TOTAL
        )
        sitting = Sitting(store, clock, piece_id, ["clove hitch"] * TOTAL)
        sitting.count(9)
        sitting.leave()
        sitting.count(3)
    no_database(database)
    ((snapshot, number, done),) = sound_snapshots(database)
    assert (number, done["Ebb"]) == (1, 9)
    aside = restore_snapshot(database, snapshot, clock.now_ms())
    assert aside.read_text().startswith("glaze")
    assert counts(database) == {"Ebb": 9}
    assert snapshot.exists()


def test_a_snapshot_fills_in_what_a_damaged_file_lost(database: Path, clock: HandClock) -> None:
    with Store(database) as store:
        piece_id = start_piece(
            store, clock, title="Ebb", project_text=PROJECT, source="x", total=TOTAL
        )
        sitting = Sitting(store, clock, piece_id, ["clove hitch"] * TOTAL)
        sitting.count(9)
        sitting.leave()
        sitting.count(3)
    raw = sqlite3.connect(database)
    raw.execute("UPDATE event SET data = '{}' WHERE seq < 3")
    raw.commit()
    raw.close()
    (piece,) = recover(database).pieces
    assert (piece.state.done, piece.carried.name, piece.state.total) == (12, "Ebb", TOTAL)


@pytest.mark.parametrize("left", ["'{}'", "replace(data, 'tide', 'tibe')"])
def test_a_lost_beginning_is_told_by_how_the_piece_stood_later(
    database: Path, clock: HandClock, monkeypatch: pytest.MonkeyPatch, left: str
) -> None:
    """Its first entry is gone, or has wrong letters: no count is lost, and the project is whole."""
    monkeypatch.setattr(store_room, "FOLDED_EVERY", 20)
    filled(database, clock, 1)
    raw = sqlite3.connect(database)
    raw.execute(f"UPDATE event SET data = {left} WHERE seq = 1")  # noqa: S608
    raw.commit()
    raw.close()
    (piece,) = recover(database).pieces
    assert (piece.state.done, piece.carried.name, piece.state.total) == (MADE, "Ebb", TOTAL)
    assert piece.state.project_text == PROJECT
    make_anew(database, [piece], clock.now_ms())
    assert counts(database) == {"Ebb": MADE}
