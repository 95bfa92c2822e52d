"""Other files come to lie where an open bench keeps its piece, in a real terminal.

Needs POSIX: pseudo-terminals and signals.
"""

import os
import shutil
import signal
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest
from forks import coach
from real_terminal import RealTerminal

from coach.piece import Store, list_pieces, look
from coach.piece.export_import import from_text, take_in_piece


def kept(database: Path) -> list[tuple[str, int]]:
    with Store(database) as store:
        store.check()
        return [(piece.name, look(store, piece.id).done) for piece in list_pieces(store)]


def hers(folder: Path) -> Path:
    """Return another maker's file: her keyring, finished."""
    with RealTerminal("knot", "reed-keyring", "--name", "Hers", home=str(folder)) as terminal:
        terminal.count(1, 17)
        terminal.press("q")
        assert terminal.end() == 0
    return folder / "data" / "coach.db"


@pytest.mark.parametrize("put", [os.replace, shutil.copyfile])
def test_another_makers_file_is_told_without_a_key_and_never_written_into(
    tmp_path: Path, put: object
) -> None:
    """Leaving offers another place, and import brings the piece back, even beside hers."""
    other = hers(tmp_path / "hers")
    database, place = tmp_path / "home" / "data" / "coach.db", tmp_path / "ebb.coach.json"
    as_it_was = other.read_bytes()
    with RealTerminal("knot", "reed-keyring", home=str(tmp_path / "home")) as terminal:
        terminal.count(1, 4)
        put(other, database)
        terminal.until("NOT SAVED from here on")
        terminal.count(5, 7)
        terminal.until("NOT SAVED: 3 counts in memory only")
        terminal.press("q")
        terminal.until("write to another place")
        terminal.press("w")
        terminal.until("write it there")
        terminal.press("\x15" + str(place))
        terminal.until("ebb.coach.json")
        terminal.press("\r")
        terminal.until("The piece is written to")
        terminal.press("l")
        assert terminal.end() == 0
    assert database.read_bytes() == as_it_was
    assert kept(database) == [("Hers", 17)]
    with Store(database) as store:
        take_in_piece(store, from_text(place.read_text()))
    assert sorted(kept(database)) == [("Hers", 17), ("Reed keyring", 7)]


def test_a_journal_that_is_deleted_and_a_kill_cost_nothing(tmp_path: Path) -> None:
    """The bench notices within half a second, and what it counted is in the file then."""
    database = tmp_path / "data" / "coach.db"
    with RealTerminal("knot", "reed-keyring", home=str(tmp_path)) as terminal:
        terminal.count(1, 4)
        Path(f"{database}-wal").unlink()
        terminal.until("Everything is saved again")
        terminal.count(5, 6)
        terminal.process.send_signal(signal.SIGKILL)
        terminal.drain()
    assert kept(database) == [("Reed keyring", 6)]


def test_a_copy_of_the_file_holds_everything_between_two_plain_lines(tmp_path: Path) -> None:
    """Nothing ticks in plain mode while it waits for a line, so each answer is settled."""
    database, copy = tmp_path / "data" / "coach.db", tmp_path / "copy.db"
    home = {"COACH_HOME": str(tmp_path)}
    with coach("knot", "reed-keyring", "--plain", environment=home) as plain:
        for typed in ("\n", "\n", "unknown\n"):
            plain.stdin.write(typed)
            plain.stdin.flush()
        while "unknown" not in plain.stdout.readline():
            continue
        shutil.copyfile(database, copy)
        plain.communicate("leave\n")
    assert kept(copy) == [("Reed keyring", 2)]


def test_a_copy_of_the_file_holds_everything_while_the_bench_rests(tmp_path: Path) -> None:
    database, copy = tmp_path / "data" / "coach.db", tmp_path / "copy.db"
    with RealTerminal("knot", "reed-keyring", home=str(tmp_path)) as terminal:
        terminal.count(1, 4)
        while Path(f"{database}-wal").stat().st_size:
            terminal.read_for(0.02)
        shutil.copyfile(database, copy)
        terminal.press("q")
        assert terminal.end() == 0
    with closing(sqlite3.connect(copy)) as raw:
        rows = raw.execute("SELECT kind, data FROM event WHERE kind = 'counted'").fetchall()
    assert len(rows) == 4
    assert kept(copy) == [("Reed keyring", 4)]
