"""What verbs write: beside and renamed, onto no input, through no link; none waits for a pipe.

Needs POSIX: pipes and devices with a name, links that anybody may make and rights of files.
"""

import ast
import os
import secrets
import stat
from pathlib import Path

import pytest
from command_line import coach
from processes import ROOT, Completed

from coach.cli.project_finder import find_project
from coach.piece import CannotKeep, Store, SystemClock, folders, start_piece
from coach.piece.storage.atomic_write import write_whole

PIECE, FILE = "Ebb", "ebb.yaml"
WRITING: dict[str, tuple[str, ...]] = {
    "card": ("card", FILE, "--replace", "-o"), "picture": ("picture", FILE, "--replace", "-o"),
    "quote": ("quote", FILE, "--replace", "--sheet"), "kit": ("kit", FILE, "--replace", "-o"),
    "export": ("export", "--replace", PIECE), "new": ("new",),
}  # fmt: skip
"""A call of every verb that writes a file; the file follows."""


@pytest.fixture
def desk(tmp_path: Path) -> Path:
    text = find_project("reed-keyring").path.read_text(encoding="utf-8")
    (tmp_path / FILE).write_text(text, encoding="utf-8")
    with Store(folders({"COACH_HOME": str(tmp_path)}).database) as store:
        start_piece(store, SystemClock(), title=PIECE, project_text=text, source="x", total=27)
    return tmp_path


def called(desk: Path, verb: str, target: str) -> Completed:
    home = {"COACH_HOME": str(desk)}
    return coach(*WRITING[verb], target, typed="\n" * 12, cwd=desk, environment=home)


@pytest.mark.parametrize("verb", WRITING)
@pytest.mark.parametrize("target", [FILE, "data/coach.db"])
def test_no_verb_writes_over_a_project_or_over_the_pieces(
    desk: Path, verb: str, target: str
) -> None:
    before = (desk / FILE).read_bytes(), (desk / "data" / "coach.db").read_bytes()
    done = called(desk, verb, target)
    assert (done.returncode, done.stderr.count("\n")) == (2, 1)
    assert ((desk / FILE).read_bytes(), (desk / "data" / "coach.db").read_bytes()) == before


@pytest.mark.parametrize("verb", WRITING)
def test_no_verb_waits_for_a_pipe_or_puts_a_file_in_its_place(desk: Path, verb: str) -> None:
    os.mkfifo(desk / "pipe.yaml")
    assert called(desk, verb, "pipe.yaml").returncode == 2
    assert stat.S_ISFIFO((desk / "pipe.yaml").stat().st_mode)


def test_a_link_that_was_planted_is_not_written_through(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Even where the name of the part is guessed."""
    precious = tmp_path / "precious"
    precious.write_text("mine")
    monkeypatch.setattr(secrets, "token_hex", lambda _: "guessed")
    (tmp_path / ".card.html.guessed.part").symlink_to(precious)
    with pytest.raises(CannotKeep):
        write_whole(tmp_path / "card.html", b"theirs")
    assert precious.read_text() == "mine"


def test_what_is_written_for_others_can_be_read_by_them(desk: Path) -> None:
    assert called(desk, "card", "card.html").returncode == 0
    mask = os.umask(0)
    os.umask(mask)
    assert (desk / "card.html").stat().st_mode & 0o777 == 0o666 & ~mask
    assert not list(desk.glob(".*.part"))


WRITES_ITSELF = {"whole_file.py", "folders.py", "output.py"}
"""The function itself, the empty database, and what lets go of an output."""


def test_every_file_is_written_by_the_same_function() -> None:
    """Another way would leave an empty file on a full disk, or write through a link."""
    for path in (ROOT / "coach").rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call) and path.name not in WRITES_ITSELF:
                name = getattr(node.func, "attr", "")
                modes = [arg.value for arg in node.args if isinstance(arg, ast.Constant)]
                opens = name == "open" and any(m in modes for m in ("w", "wb", "x", "a", "ab"))
                assert name not in ("write_text", "write_bytes", "mkstemp"), path
                assert not opens, path
