"""The coach in a real pseudo-terminal: walked, killed, opened again, refused.

Needs POSIX: pseudo-terminals and signals.
"""

import json
import os
import signal
from importlib import import_module
from pathlib import Path

import command_line
import pytest
from processes import Completed
from real_terminal import RealTerminal, shows

import coach
from coach.piece import Store, list_pieces, look
from coach.piece.events import WentOn
from coach.piece.folding import fold

PROJECTS = Path(coach.__file__).parent.parent / "projects"


def said(home: Path, *arguments: str) -> Completed:
    """Call the coach without a terminal."""
    return command_line.coach(*arguments, environment={"COACH_HOME": str(home)})


def kept(home: Path) -> list[tuple[str, int, int]]:
    """Return what the store has: name, done and total of each piece."""
    with Store(home / "data" / "coach.db") as store:
        return [(piece.name, piece.done, piece.total) for piece in list_pieces(store)]


def test_killed_in_mid_step_it_goes_on_from_the_same_count(tmp_path: Path) -> None:
    home = str(tmp_path)
    with RealTerminal("knot", "reed-keyring", home=home, settings="") as terminal:
        terminal.until(shows(0, 27))
        terminal.count(1, 4)
        terminal.kill()
    assert kept(tmp_path) == [("Reed keyring", 4, 27)]
    with RealTerminal("knot", "reed-keyring", home=home, settings="") as terminal:
        terminal.until(lambda text: shows(4, 27)(text) and "hang like this?" in text)
        terminal.press(" ")
        terminal.until(lambda text: "hang like this?" not in text)
        terminal.count(5, 6)
        terminal.press("q")
        assert terminal.end() == 0
    assert kept(tmp_path) == [("Reed keyring", 6, 27)]


def test_a_keyring_is_walked_to_its_end(tmp_path: Path) -> None:
    with RealTerminal("knot", "reed-keyring", home=str(tmp_path)) as terminal:
        terminal.until(shows(0, 27))
        terminal.count(1, 27)
        terminal.until(shows(27, 27))
        terminal.press("q")
        assert terminal.end() == 0
    found = json.loads(said(tmp_path, "pieces", "--json").stdout)
    assert [(piece["name"], piece["done"], piece["total"]) for piece in found] == [
        ("Reed keyring", 27, 27)
    ]


def test_the_list_leads_to_the_plan_and_then_to_the_bench(tmp_path: Path) -> None:
    with RealTerminal(home=str(tmp_path)) as terminal:
        terminal.until("Reed keyring")
        terminal.press("keyring\r")
        terminal.until("reed")
        terminal.until("enter")
        terminal.press("\r")
        terminal.until(shows(0, 27))
        terminal.count(1, 1)
        terminal.press("q")
        terminal.until(lambda text: shows(1, 27)(text) and "Tide band" in text)
        terminal.press("q")
        assert terminal.end() == 0


@pytest.mark.parametrize("number", [signal.SIGTERM, signal.SIGHUP])
def test_a_signal_leaves_the_terminal_sane_and_the_piece_kept(
    tmp_path: Path, number: signal.Signals
) -> None:
    with RealTerminal("knot", "reed-keyring", home=str(tmp_path)) as terminal:
        terminal.until(shows(0, 27))
        terminal.count(1, 2)
        terminal.process.send_signal(number)
        assert terminal.end() == 0
        assert "\x1b[?1049l" in terminal.written
    assert kept(tmp_path) == [("Reed keyring", 2, 27)]


@pytest.mark.parametrize(("columns", "rows"), [(40, 12), (20, 6), (8, 3), (120, 40)])
def test_any_size_of_terminal_counts(tmp_path: Path, columns: int, rows: int) -> None:
    size = {"columns": columns, "rows": rows}
    with RealTerminal("knot", "reed-keyring", home=str(tmp_path), **size) as terminal:
        terminal.until(lambda text: bool(text.strip()))
        terminal.press(" ")
        terminal.until(lambda _: kept(tmp_path) == [("Reed keyring", 1, 27)])
        terminal.press("q")
        assert terminal.end() == 0


def test_without_a_terminal_it_says_so_in_a_line_and_gives_2(tmp_path: Path) -> None:
    for arguments in ((), ("knot", "reed-keyring")):
        done = said(tmp_path, *arguments)
        assert done.returncode == 2
        assert "needs a terminal" in done.stderr
        assert done.stderr.count("\n") == 1
    assert not (tmp_path / "data").exists()


def test_an_unknown_project_is_answered_with_near_names(tmp_path: Path) -> None:
    with RealTerminal("knot", "reed-keyrin", home=str(tmp_path)) as terminal:
        assert terminal.end() == 2
        assert "reed-keyring" in terminal.text


def test_a_data_folder_that_cannot_be_written_is_told_before_the_first_knot(
    tmp_path: Path,
) -> None:
    (tmp_path / "data").write_text("a file where the folder should be")
    with RealTerminal("knot", "reed-keyring", home=str(tmp_path)) as terminal:
        assert terminal.end() == 2
        assert "cannot be made" in terminal.text
        assert "Traceback" not in terminal.text


def test_a_project_with_errors_is_told_with_its_places(tmp_path: Path) -> None:
    wrong = tmp_path / "wrong.yaml"
    text = (PROJECTS / "reed-keyring.yaml").read_text()
    wrong.write_text(text.replace("knot: square knot", "knot: sqare knot"))
    with RealTerminal("knot", str(wrong), home=str(tmp_path), columns=120) as terminal:
        assert terminal.end() == 1
        assert "square knot" in terminal.text
        assert "error[KNOT]" in terminal.text


def test_what_is_no_key_ends_nothing(tmp_path: Path) -> None:
    odd = b"\xff\xfe", b"\xc3", b"\x1b[98;1:2u", b"\x1b[99999999999u", b"\x1bP\x1b[[[;;;~"
    with RealTerminal("knot", "reed-keyring", home=str(tmp_path)) as terminal:
        terminal.until(shows(0, 27))
        for done, sent in enumerate(odd, start=1):
            os.write(terminal.master, sent)
            terminal.rest()
            terminal.press("\x1b\\")
            terminal.rest()
            terminal.press(" ")
            terminal.until(shows(done, 27))


def test_a_terminal_that_has_gone_ends_the_coach_and_keeps_the_piece(tmp_path: Path) -> None:
    with RealTerminal("knot", "reed-keyring", home=str(tmp_path)) as terminal:
        terminal.until(shows(0, 27))
        terminal.count(1, 2)
        terminal.hang_up()
        terminal.process.wait(timeout=30)
    assert kept(tmp_path) == [("Reed keyring", 2, 27)]


def test_a_fault_of_ours_is_told_in_a_line_with_a_file_for_the_details(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(_options: object) -> int:
        raise RuntimeError("a fault")

    monkeypatch.setattr(import_module("coach.cli.commands.pieces"), "run", broken)
    done = said(tmp_path, "pieces")
    assert done.returncode == 1
    assert done.stderr.count("\n") == 1
    assert "Traceback" not in done.stdout + done.stderr
    assert "RuntimeError: a fault" in (tmp_path / "cache" / "fault.txt").read_text()


def test_a_piece_that_cannot_be_gone_on_with_is_refused_before_there_is_a_screen(
    tmp_path: Path,
) -> None:
    """The terminal stays as it was, and the reason stands on it."""
    with RealTerminal("knot", "reed-keyring", home=str(tmp_path)) as terminal:
        terminal.until(shows(0, 27))
        terminal.press(" ")
        terminal.until(shows(1, 27))
        terminal.press("q")
        assert terminal.end() == 0
    with Store(tmp_path / "data" / "coach.db") as store:
        (piece,) = list_pieces(store)
        state = look(store, piece.id)
        other = WentOn(at_ms=1, tick_ms=1, sitting=state.sitting, at_done=1, total=28)
        store.append(piece.id, fold(state, other), other)
    with RealTerminal("knot", "reed-keyring", home=str(tmp_path)) as terminal:
        assert terminal.end() == 2
        terminal.drain()
        assert "was begun with another version of the coach" in " ".join(terminal.written.split())
        assert "\x1b[?1049" not in terminal.written
        assert "Traceback" not in terminal.written
