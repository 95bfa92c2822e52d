"""Pieces written to a file and taken in again; layouts of earlier days.

Needs POSIX: rights of files.
"""

import json
import os
import shutil
import sqlite3
from pathlib import Path

import command_line
import pytest
from examples import examples
from hand_clock import HandClock
from hypothesis import given
from hypothesis import strategies as st
from processes import Completed

from coach.piece import (
    AlreadyThere,
    CannotKeep,
    CannotTakeIn,
    Damaged,
    NewerVersion,
    PieceError,
    Sitting,
    Store,
    look,
    start_piece,
)
from coach.piece.export_import import export_piece, from_text, piece_file_name, take_in_piece
from coach.piece.rescue.recovery import make_anew, recover
from coach.piece.storage import opening
from coach.piece.storage.atomic_write import write_whole
from coach.piece.storage.migrations import MIGRATIONS
from coach.piece.storage.sqlite_errors import pragma

LAYOUTS = Path(__file__).with_name("layouts")
KNOTS = ["clove hitch"] * 30
# What the pieces of the kept layouts are: name, counts made, of how many, seconds worked.
KEPT = {("Reed keyring", 10, 27, 194.0), ("for the shop “Ebb”", 27, 27, 22.0)}


def begun(store: Store, clock: HandClock, name: str = "Ebb") -> Sitting:
    piece_id = start_piece(
        store, clock, title=name, project_text="coach: 1\n", source="ebb.yaml", total=len(KNOTS)
    )
    sitting = Sitting(store, clock, piece_id, KNOTS)
    for _ in range(9):
        clock.go_on(9)
        sitting.count()
    sitting.take_back(2)
    sitting.pause()
    return sitting


def test_a_piece_comes_back_with_all_its_events(
    store: Store, tmp_path: Path, clock: HandClock
) -> None:
    """Every event and all that follows from them: counts, time, paces."""
    sitting = begun(store, clock)
    text = export_piece(store, sitting.piece_id)
    with Store(tmp_path / "other.db") as other:
        assert "is here now" in take_in_piece(other, from_text(text))
        (piece,) = other.pieces()
        assert other.events_after(piece.id) == store.events_after(sitting.piece_id)
        assert look(other, piece.id) == look(store, sitting.piece_id)
        assert export_piece(other, piece.id) == text


def test_a_piece_that_came_further_elsewhere_is_brought_up(
    store: Store, tmp_path: Path, clock: HandClock
) -> None:
    """Away and back: only what is new is added, and taking it in twice changes nothing."""
    sitting = begun(store, clock)
    away = export_piece(store, sitting.piece_id)
    with Store(tmp_path / "other.db") as other:
        take_in_piece(other, from_text(away))
        further = Sitting(other, clock, 1, KNOTS)
        further.count(5)
        back = export_piece(other, 1)
        assert "came further" in take_in_piece(other, from_text(away))
    assert "2 more entries" in take_in_piece(store, from_text(back))
    assert look(store, sitting.piece_id).done == 12
    assert "Nothing was changed" in take_in_piece(store, from_text(back))


def test_a_piece_that_went_another_way_is_replaced_only_when_told(
    store: Store, clock: HandClock
) -> None:
    sitting = begun(store, clock)
    text = export_piece(store, sitting.piece_id)
    sitting.count(3)
    other_way = text.replace('"count": 2', '"count": 1')
    with pytest.raises(CannotTakeIn, match="`--name 'Ebb 2'`"):
        take_in_piece(store, from_text(other_way))
    assert look(store, sitting.piece_id).done == 10
    take_in_piece(store, from_text(other_way), "Ebb, from the tablet")
    take_in_piece(store, from_text(other_way), instead=True)
    assert sorted((p.name, p.done) for p in store.pieces()) == [
        ("Ebb", 8), ("Ebb, from the tablet", 8)
    ]  # fmt: skip


@pytest.fixture
def good(store: Store, clock: HandClock) -> str:
    """Return an export that is as it should be."""
    return export_piece(store, begun(store, clock).piece_id)


@pytest.mark.parametrize(
    ("old", "new", "error", "words"),
    [
        ('"coach piece": 1', '"coach piece": 9', NewerVersion, "newer"),
        ('"coach piece": 1', '"coach piece": true', CannotTakeIn, "not an exported piece"),
        ('"kind": "paused"', '"kind": "dreamt"', NewerVersion, "dreamt"),
        ('"from_done": 3', '"from_done": 4', CannotTakeIn, "cannot have happened"),
        ('"count": 1', '"count": 1e999', CannotTakeIn, "cannot be"),
        ('"count": 1', '"count": 99999999999999999999', CannotTakeIn, "cannot be"),
        ('"at_ms": 19', '"at_ms": 9919', CannotTakeIn, "cannot be"),
        ('"title": "Ebb"', '"title": "\\u001b]0;Ebb"', CannotTakeIn, "nobody can see"),
        ('"title": "Ebb"', '"title": "\\ud800"', CannotTakeIn, "nobody can see"),
        ('"paces": {}', '"paces": ' + "[" * 5000 + "]" * 5000, CannotTakeIn, "piece|read"),
    ],
)
def test_a_file_that_holds_no_piece_is_refused_in_a_sentence(
    good: str, old: str, new: str, error: type[Exception], words: str
) -> None:
    text = good
    assert old in text
    with pytest.raises(error, match=words):
        from_text(text.replace(old, new))


@examples(150)
@given(st.data())
def test_a_torn_or_scribbled_file_gives_a_piece_or_a_sentence(
    data: st.DataObject,
) -> None:
    text = (LAYOUTS / "export-1.json").read_text()
    at = data.draw(st.integers(0, len(text)))
    end = data.draw(st.integers(at, min(len(text), at + 40)))
    scribble = data.draw(st.text(max_size=8) | st.sampled_from(["null", "-1", "{}", "[", "1e400"]))
    try:
        carried = from_text(text[:at] + scribble + text[end:])
    except PieceError:
        return
    *_, last = carried.states()
    assert last.done <= last.total


def test_writing_never_goes_over_a_file_unasked(tmp_path: Path) -> None:
    path = tmp_path / "ebb.coach.json"
    write_whole(path, b"first")
    with pytest.raises(AlreadyThere, match="already"):
        write_whole(path, b"second")
    assert path.read_bytes() == b"first"
    write_whole(path, b"third", replace=True)
    assert path.read_bytes() == b"third"
    assert path.stat().st_mode & 0o777 == 0o600
    assert [file.name for file in tmp_path.iterdir()] == [path.name]


def test_a_file_that_cannot_be_finished_leaves_the_one_before(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The disk refuses when all is written: the old file is whole, and nothing lies beside it."""
    path = tmp_path / "ebb.coach.json"
    write_whole(path, b"first")

    def refuse(_: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", refuse)
    with pytest.raises(CannotKeep, match="no space left"):
        write_whole(path, b"second", replace=True)
    assert path.read_bytes() == b"first"
    assert [file.name for file in tmp_path.iterdir()] == [path.name]


@pytest.mark.parametrize(
    ("name", "file"),
    [("Tide band 2", "tide-band-2"), ("../../etc/\x1b[31m", "etc-31m"), ("…", "piece")],
)
def test_the_name_of_a_file_is_plain(name: str, file: str) -> None:
    assert piece_file_name(name) == f"{file}.coach.json"


def coach(home: Path, *arguments: str) -> Completed:
    at_home = {"COACH_HOME": str(home)}
    return command_line.coach(*arguments, cwd=home, environment=at_home)


def test_the_verbs_carry_a_piece_from_one_home_to_another(tmp_path: Path, clock: HandClock) -> None:
    one, other = tmp_path / "one", tmp_path / "other"
    other.mkdir()
    with Store(one / "data" / "coach.db") as store:
        begun(store, clock)
    done = coach(one, "export", "ebb")
    assert (done.returncode, done.stderr) == (0, "")
    file = one / "ebb.coach.json"
    assert file.stat().st_mode & 0o777 == 0o600
    assert coach(one, "export", "ebb").returncode == 2, "it is there already"
    assert coach(one, "export", "ebb", "--replace").returncode == 0
    assert coach(other, "import", str(file)).returncode == 0
    assert json.loads(coach(other, "pieces", "--json").stdout)[0]["done"] == 7
    assert coach(one, "export", "flood").returncode == 2
    torn = tmp_path / "torn.json"
    torn.write_text(file.read_text()[:900])
    refused = coach(other, "import", str(torn))
    assert (refused.returncode, refused.stderr.count("\n")) == (1, 1)
    assert coach(other, "import", "nowhere.json").returncode == 1


@pytest.mark.parametrize("file", sorted(LAYOUTS.glob("coach-*.db")), ids=lambda path: path.name)
def test_a_database_of_every_layout_opens_with_all_that_it_held(tmp_path: Path, file: Path) -> None:
    path = tmp_path / "coach.db"
    shutil.copyfile(file, path)
    with Store(path) as store:
        store.check()
        states = [(piece, look(store, piece.id)) for piece in store.pieces()]
        assert {(p.name, s.done, s.total, s.worked_s) for p, s in states} == KEPT
        assert all(piece.events == state.seq for piece, state in states)
        assert pragma(store._db, "user_version") == len(MIGRATIONS)
        assert pragma(store._db, "freelist_count") == 0, "room that a migration left is given back"


def test_there_is_a_database_and_an_export_of_every_layout() -> None:
    databases = {path.name for path in LAYOUTS.glob("coach-*.db")}
    assert databases == {f"coach-{n}.db" for n in range(1, len(MIGRATIONS) + 1)}


@pytest.mark.parametrize("file", sorted(LAYOUTS.glob("export-*.json")), ids=lambda path: path.name)
def test_an_export_of_every_layout_is_taken_in(store: Store, file: Path) -> None:
    take_in_piece(store, from_text(file.read_text()))
    (piece,) = store.pieces()
    assert (piece.name, piece.done, piece.total, piece.worked_ms / 1000) in KEPT


@pytest.mark.parametrize(("layout", "most"), [(1, 3), (2, 4), (3, 8)])
def test_a_migration_that_is_torn_leaves_the_layout_before(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, layout: int, most: int
) -> None:
    """It and its record are one transaction: half of it is none of it, and it can be done again."""
    path = tmp_path / "coach.db"
    shutil.copyfile(LAYOUTS / f"coach-{layout}.db", path)
    torn = list(MIGRATIONS)
    torn[layout] = (*torn[layout][:most], "SELECT no such thing")
    raw = sqlite3.connect(path)
    tables = raw.execute("SELECT * FROM sqlite_master").fetchall()
    with monkeypatch.context() as patch:
        patch.setattr(opening, "MIGRATIONS", tuple(torn))
        with pytest.raises(Damaged):
            Store(path)
    assert raw.execute("PRAGMA user_version").fetchone() == (layout,)
    assert raw.execute("SELECT * FROM sqlite_master").fetchall() == tables
    raw.close()
    with Store(path) as store:
        store.check()


@pytest.mark.parametrize("file", sorted(LAYOUTS.glob("coach-*.db")), ids=lambda path: path.name)
def test_a_database_of_every_layout_is_read_page_by_page(tmp_path: Path, file: Path) -> None:
    """Its head is gone, so that SQLite reads nothing of it: every page is looked through."""
    path = tmp_path / "coach.db"
    data = file.read_bytes()
    path.write_bytes(bytes(16) + data[16:18] + bytes(82) + data[100:])
    with pytest.raises(Damaged):
        Store(path)
    found = recover(path)
    told = {(p.carried.name, p.state.done, p.state.total, p.state.worked_s) for p in found.pieces}
    assert (told, found.torn, [p.missing for p in found.pieces]) == (KEPT, 0, [0, 0])


def test_a_piece_that_is_mended_keeps_its_id(store: Store, clock: HandClock) -> None:
    sitting = begun(store, clock)
    sitting.settle()
    (before,) = store.pieces()
    store.close()
    make_anew(store.path, recover(store.path).pieces, clock.now_ms())
    with Store(store.path) as mended:
        (after,) = mended.pieces()
        assert (after.id, after.uid, after.events) == (before.id, before.uid, before.events)


@pytest.mark.parametrize(
    ("layout", "spoil"),
    [
        (2, "UPDATE event SET data = replace(data, '\"count\":1', '\"count\":7') WHERE seq = 6"),
        (3, "UPDATE event SET data = x'0107' || substr(data, 3) WHERE id = (1 << 32) + 6"),
        (3, "UPDATE event SET id = (1 << 32) + 999 WHERE id = (1 << 32) + 6"),
        (3, "UPDATE piece SET done = 11 WHERE done = 10"),
    ],
)
def test_what_is_damaged_in_an_earlier_layout_is_not_given_a_new_sum(
    tmp_path: Path, layout: int, spoil: str
) -> None:
    """It is told, the file stays in its layout, and what is whole in it can be had back."""
    path = tmp_path / "coach.db"
    shutil.copyfile(LAYOUTS / f"coach-{layout}.db", path)
    raw = sqlite3.connect(path)
    raw.execute(spoil)
    raw.commit()
    with pytest.raises(Damaged, match=r"not as it was written.*mend"):
        Store(path)
    assert raw.execute("PRAGMA user_version").fetchone()[0] in (2, 3)
    raw.close()
    states = {p.state.done for p in recover(path).pieces}
    assert states == {done for _, done, _, _ in KEPT}
