"""The bench in a real terminal while nothing can be written: it counts on, tells it, and asks.

Needs POSIX: pseudo-terminals, limits of the system and signals.
"""

import json
import resource
import signal
from pathlib import Path

import pytest
from real_terminal import RealTerminal

from coach.piece import Store, list_pieces
from coach.piece.export_import import from_text, take_in_piece

NO_LIMIT = resource.RLIM_INFINITY


def kept(home: Path) -> list[int]:
    with Store(home / "data" / "coach.db") as store:
        return [piece.done for piece in list_pieces(store)]


def limit(terminal: RealTerminal, most_bytes: int) -> None:
    """Let no file that the program writes grow beyond so many bytes, as the system does."""
    resource.prlimit(terminal.process.pid, resource.RLIMIT_FSIZE, (most_bytes, NO_LIMIT))


def test_counts_wait_in_memory_and_are_stored_when_there_is_room(tmp_path: Path) -> None:
    with RealTerminal("knot", "reed-keyring", home=str(tmp_path)) as terminal:
        terminal.count(1, 2)
        limit(terminal, 0)
        terminal.count(3, 5)
        terminal.until("NOT SAVED: 3 counts in memory only")
        assert kept(tmp_path) == [2]
        limit(terminal, NO_LIMIT)
        terminal.until("Everything is saved again")
        assert kept(tmp_path) == [5]
        terminal.press("q")
        assert terminal.end() == 0
    assert kept(tmp_path) == [5]


def test_leaving_then_asks_first_and_writes_the_counts_to_another_place(tmp_path: Path) -> None:
    """A place that takes nothing either is told; then one that does; it comes back with import."""
    home, other = tmp_path / "home", tmp_path / "stick"
    other.mkdir()
    with RealTerminal("knot", "reed-keyring", home=str(home)) as terminal:
        terminal.count(1, 1)
        limit(terminal, 0)
        terminal.count(2, 4)
        terminal.press("q")
        terminal.until("write to another place")
        terminal.press("t")
        terminal.until("3 counts not kept")
        terminal.press("w")
        terminal.until("write it there")
        terminal.press("\x15" + str(other / "ebb.coach.json"))
        terminal.until("ebb.coach.json")
        terminal.press("\r")
        terminal.until("cannot be written")
        (home / "data" / "coach.db").rename(home / "data" / "away.db")
        limit(terminal, NO_LIMIT)
        terminal.press("w")
        terminal.until("write it there")
        terminal.press("\x15" + str(other / "ebb.coach.json"))
        terminal.until("ebb.coach.json")
        terminal.press("\r")
        terminal.until("The piece is written to")
        terminal.press("l")
        assert terminal.end() == 0
    (home / "data" / "away.db").rename(home / "data" / "coach.db")
    assert kept(home) == [1]
    carried = from_text((other / "ebb.coach.json").read_text())
    with Store(home / "data" / "coach.db") as store:
        take_in_piece(store, carried)
    assert kept(home) == [4]


def test_leaving_without_them_is_possible_and_going_on_too(tmp_path: Path) -> None:
    with RealTerminal("knot", "reed-keyring", home=str(tmp_path)) as terminal:
        terminal.count(1, 1)
        limit(terminal, 0)
        terminal.count(2, 2)
        terminal.press("q")
        terminal.until("go on knotting")
        terminal.press("\x1b")
        terminal.until("NOT SAVED")
        terminal.count(3, 3)
        terminal.press("q")
        terminal.until("leave without them")
        terminal.press("l")
        assert terminal.end() == 0
    assert kept(tmp_path) == [1]


@pytest.mark.parametrize("number", [signal.SIGTERM, signal.SIGHUP])
def test_a_signal_puts_aside_what_could_not_be_stored(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, number: signal.Signals
) -> None:
    """Nobody can be asked: the piece is written to the maker's home, and that is told."""
    monkeypatch.setenv("HOME", str(tmp_path))
    home = tmp_path / "coach"
    with RealTerminal("knot", "reed-keyring", home=str(home)) as terminal:
        terminal.count(1, 1)
        (home / "data" / "coach.db").rename(home / "data" / "away.db")
        terminal.count(2, 3)
        terminal.process.send_signal(number)
        assert terminal.end() == 0
        assert "\x1b[?1049l" in terminal.written
        assert "reed-keyring.coach.json" in terminal.written
    data = json.loads((tmp_path / "reed-keyring.coach.json").read_text())
    assert sum(event["kind"] == "counted" for event in data["events"]) == 3


def test_a_damaged_file_is_told_asked_about_and_put_aside(tmp_path: Path) -> None:
    with RealTerminal("knot", "reed-keyring", home=str(tmp_path)) as terminal:
        terminal.count(1, 3)
        terminal.press("q")
        assert terminal.end() == 0
    database = tmp_path / "data" / "coach.db"
    torn = bytearray(database.read_bytes())
    torn[4096 * 2 : 4096 * 2 + 8] = b"\xff" * 8
    torn[100:108] = b"\x00" * 8
    database.write_bytes(torn)
    with RealTerminal("knot", "reed-keyring", home=str(tmp_path), columns=120) as terminal:
        terminal.until("leave everything as it is")
        terminal.press("9\n")
        terminal.press("the first\n")
        terminal.press("1\n")
        terminal.until("Does the work hang like this")
        assert "3 of 27" in terminal.text
    (aside,) = database.parent.glob("coach-damaged-*.db")
    assert aside.read_bytes() == bytes(torn)
