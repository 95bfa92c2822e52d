"""Every verb where the output is not UTF-8, is lost, or is stopped.

Needs POSIX: forked processes, pipes and devices with a name and a POSIX shell.
"""

import html
import json
import locale
import os
import shutil
import signal
import sys
import tomllib
from collections.abc import Iterator
from contextlib import contextmanager
from importlib import import_module
from pathlib import Path
from types import SimpleNamespace

import pytest
from command_line import coach
from forks import coach as coach_forked
from processes import PYTHON, ROOT, Completed, Started, run_python
from processes import coach as coach_started

from coach.cli.project_finder import find_project
from coach.cli.registry import COMMANDS
from coach.piece import Store, SystemClock, folders, start_piece

TITLE = "Łódź ribbon"
PIECE = "ribbon for the shop"
FILE = "ribbon.yaml"
C_LOCALE = {"LC_ALL": "C", "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0", "PYTHONIOENCODING": ""}
FULL = "coach: The output cannot be written: no space left on device. Send it somewhere else.\n"
CLOSED = "coach: What reads the output has stopped; the rest was not written.\n"
STOPPED = "coach: stopped.\n"

PRINTING: tuple[tuple[str, ...], ...] = (
    ("check", FILE), ("plan", FILE), ("swatch", FILE), ("quote", FILE), ("stock",), ("sizes",),
    ("knot", FILE, "--plain"), ("pieces",),
    ("kit", FILE), ("orders",),
    ("how", "half", "knot"), ("new", "new.yaml"), ("words", FILE), ("card", FILE),
    ("picture", FILE),
    ("manual", "writing"), ("completion", "bash"), ("export", PIECE, "Ł.coach"),
    ("import", "Ł.json"), ("mend",), ("remove", PIECE, "--yes"), ("--help",), ("--version",),
)  # fmt: skip
"""A call of every verb that prints, and of what is no verb."""
MORE: dict[tuple[str, ...], int] = {
    (): 2, ("keys",): 2, ("desk",): 2, ("check", "faulty.yaml"): 1, ("check", "łódź.yaml"): 0,
    ("check", "nowhere-Ł.yaml"): 2, ("plan", "faulty.yaml"): 1, ("pieces", PIECE): 0,
    ("pieces", "--csv"): 0, ("pieces", "--names"): 0, ("how",): 0, ("how", "Łódź"): 2,
    ("words", FILE, "--markdown"): 0, ("quote", FILE, "--csv"): 0, ("quote", "faulty.yaml"): 1,
}  # fmt: skip
"""Other calls, and how they end."""
ALL = {**dict.fromkeys(PRINTING, 0), **MORE}
BEYOND_ASCII = [call for call in ALL if not "".join(call).isascii()]
TITLED = (("plan", FILE), ("words", FILE), ("knot", FILE, "--plain"), ("pieces", "--names"))
AS_JSON = (
    ("check", "--json", FILE, "faulty.yaml"), ("plan", "--json", FILE), ("pieces", "--json"),
    ("quote", "--json", FILE),
    ("pieces", PIECE, "--json"),
)  # fmt: skip
# The output; which characters a drawing is made of is asked of the terminal.
# The drawer keeps a file of its own; what draws is told which characters there are.
KNOWS_ENCODINGS = {"output", "how", "pieces", "drawer", "reading"}
TYPED = f"{TITLE}\n".encode() + b"\n" * 20


@pytest.fixture(scope="session")
def room(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return a folder with projects, two pieces under way and one exported, to be copied."""
    folder = tmp_path_factory.mktemp("room")
    text = find_project("reed-keyring").path.read_text(encoding="utf-8")
    text = text.replace("title: Reed keyring", f"title: {TITLE}")
    for name in (FILE, "łódź.yaml"):
        (folder / name).write_text(text, encoding="utf-8")
    (folder / "faulty.yaml").write_text(f"{text}\nŁ: 1\n", encoding="utf-8")
    home = {"COACH_HOME": str(folder / "home")}
    with Store(folders(home).database) as store:
        for piece in (TITLE, PIECE):
            start_piece(store, SystemClock(), title=TITLE, project_text=text, source="x", total=27,
                  name=piece)  # fmt: skip
    coach("export", TITLE, "Ł.json", cwd=folder, environment=home, check=True)
    return folder


@pytest.fixture
def desk(room: Path, tmp_path: Path) -> Path:
    """Return a copy of the room to work in."""
    return Path(shutil.copytree(room, tmp_path / "desk"))


def called(desk: Path, arguments: tuple[str, ...], encoding: str = "utf-8") -> Completed:
    """Call the coach at the desk; what it prints is bytes."""
    home = {"COACH_HOME": str(desk / "home")}
    return sound(coach(*arguments, typed=TYPED, cwd=desk, environment=home, encoding=encoding))


def started(desk: Path, arguments: tuple[str, ...], environment: dict[str, str]) -> Completed:
    """Start the coach at the desk in a process of its own; what it prints is bytes."""
    seen = {"COACH_HOME": str(desk / "home"), **environment}
    return sound(coach_started(*arguments, typed=TYPED, cwd=desk, environment=seen))


def sound(done: Completed) -> Completed:
    assert b"Traceback" not in done.stderr
    assert b"went wrong" not in done.stderr
    return done


@contextmanager
def nothing_but_ascii() -> Iterator[None]:
    """Let files that are opened without a word on their encoding be ASCII."""
    before = locale.setlocale(locale.LC_CTYPE)
    locale.setlocale(locale.LC_CTYPE, "C")
    try:
        yield
    finally:
        locale.setlocale(locale.LC_CTYPE, before)


def test_every_verb_is_called_here() -> None:
    assert {call[0] for call in ALL if call} == {*COMMANDS, "--help", "--version"}


def test_one_place_knows_of_encodings() -> None:
    """Every verb prints text, and JSON and pages through it."""
    paths = list((ROOT / "coach" / "cli").rglob("*.py"))
    assert len(paths) > 20
    for path in paths:
        text = path.read_text(encoding="utf-8")
        found = [word for word in ("dumps(", "ensure_ascii", ".encoding") if word in text]
        assert path.stem in KNOWS_ENCODINGS or not found, path


@pytest.mark.parametrize("arguments", ALL, ids=" ".join)
def test_every_verb_prints_where_there_is_nothing_but_ascii(
    arguments: tuple[str, ...], desk: Path
) -> None:
    as_given = tuple(word.encode().decode("ascii", "surrogateescape") for word in arguments)
    with nothing_but_ascii():
        done = called(desk, as_given, "ascii")
    assert done.returncode == ALL[arguments]
    assert done.stdout.decode("ascii") or done.stderr.decode("ascii")


@pytest.mark.parametrize("arguments", BEYOND_ASCII, ids=" ".join)
def test_a_process_that_knows_nothing_but_ascii_takes_names_that_are_more(
    arguments: tuple[str, ...], desk: Path
) -> None:
    """There the names of files are bytes that have no letters."""
    done = started(desk, arguments, C_LOCALE)
    assert done.returncode == ALL[arguments]
    assert done.stdout.decode("ascii") or done.stderr.decode("ascii")


@pytest.mark.parametrize("arguments", TITLED, ids=" ".join)
def test_letters_that_an_encoding_has_not_are_printed_as_the_nearest(
    arguments: tuple[str, ...], desk: Path
) -> None:
    assert "Lódz ribbon" in called(desk, arguments, "cp1252").stdout.decode("cp1252")
    assert "Lodz ribbon" in called(desk, arguments, "ascii").stdout.decode("ascii")


def test_a_process_prints_in_the_encoding_that_python_finds(desk: Path) -> None:
    names = ("pieces", "--names")
    assert "Lodz ribbon" in started(desk, names, C_LOCALE).stdout.decode("ascii")
    found = {"PYTHONIOENCODING": "cp1252:strict"}
    assert "Lódz ribbon" in started(desk, names, found).stdout.decode("cp1252")


@pytest.mark.parametrize("encoding", ["iso8859-2", "utf-8", "utf-16"])
def test_letters_that_an_encoding_has_are_printed(encoding: str, desk: Path) -> None:
    assert TITLE in called(desk, ("pieces", "--names"), encoding).stdout.decode(encoding)


@pytest.mark.parametrize("arguments", AS_JSON, ids=" ".join)
def test_json_loses_nothing(arguments: tuple[str, ...], desk: Path) -> None:
    """It is UTF-8 by its standard (RFC 8259, 8.1, read), which ASCII is too."""
    whole = called(desk, arguments).stdout
    assert "Ł".encode() in whole
    printed = called(desk, arguments, "cp1252").stdout.decode("ascii")
    assert json.loads(printed) == json.loads(whole)


@pytest.mark.parametrize("form", [(), ("--svg",)], ids=["page", "drawing"])
def test_a_card_loses_nothing_and_its_file_is_utf_8(form: tuple[str, ...], desk: Path) -> None:
    whole = called(desk, ("card", FILE, *form)).stdout.decode()
    assert TITLE in whole
    printed = called(desk, ("card", FILE, *form), "cp1252").stdout.decode("ascii")
    assert html.unescape(printed) == html.unescape(whole)
    with nothing_but_ascii():
        called(desk, ("card", FILE, *form, "-o", "card"), "ascii")
    assert (desk / "card").read_text(encoding="utf-8") == whole


@pytest.mark.parametrize("arguments", PRINTING, ids=" ".join)
def test_a_full_disk_is_told_in_a_sentence(arguments: tuple[str, ...], desk: Path) -> None:
    home = {"COACH_HOME": str(desk / "home")}
    with open_full() as full:
        done = coach(*arguments, typed="\n" * 20, cwd=desk, environment=home, output=full)
    assert (done.returncode, done.stderr) == (2, FULL)


@pytest.mark.parametrize("unbuffered", ["", "1"], ids=["gathered", "at once"])
@pytest.mark.parametrize("arguments", [("words", FILE), ("--help",)], ids=" ".join)
def test_a_process_tells_of_a_full_disk_and_no_more(
    arguments: tuple[str, ...], unbuffered: str, desk: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Neither as it writes nor as it ends."""
    monkeypatch.setitem(PYTHON, "PYTHONUNBUFFERED", unbuffered)
    with open_full() as full:
        assert lost(desk, arguments, full) == (2, FULL)


@contextmanager
def open_full() -> Iterator[int]:
    """Open what takes nothing."""
    full = os.open("/dev/full", os.O_WRONLY)
    yield full
    os.close(full)


@pytest.mark.parametrize("arguments", [("words", FILE), ("card", FILE), ("--help",)], ids=" ".join)
def test_a_pipe_that_nobody_reads_is_told_in_a_sentence(
    arguments: tuple[str, ...], desk: Path
) -> None:
    reading, writing = os.pipe()
    os.close(reading)
    assert lost(desk, arguments, writing) == (2, CLOSED)
    os.close(writing)


def lost(desk: Path, arguments: tuple[str, ...], output: int) -> tuple[int, str]:
    """Call the coach with this output; give how it ends and what it says beside."""
    command = [sys.executable, "-m", "coach", *arguments]
    seen = {"COACH_HOME": str(desk / "home")}
    with Started(command, cwd=desk, environment=seen, stdout=output) as process:
        told = process.communicate("\n" * 20)[1]
    return process.returncode, told


INTERRUPT = """
import atexit, os, signal, sys

class Interrupting:
    def find_spec(self, name, path=None, target=None):
        if name == os.environ["INTERRUPTED"]:
            signal.raise_signal(signal.SIGINT)

sys.meta_path.insert(0, Interrupting())
if os.environ["INTERRUPTED"] == "the end":
    atexit.register(signal.raise_signal, signal.SIGINT)
"""


def interrupted(folder: Path, module: str, *arguments: str) -> tuple[int, str]:
    """Run the coach, press ctrl+c when this module is about to be loaded; give how it ends."""
    (folder / "sitecustomize.py").write_text(INTERRUPT, encoding="utf-8")
    path = f"{folder}{os.pathsep}{ROOT}"
    done = coach_started(*arguments, environment={"PYTHONPATH": path, "INTERRUPTED": module})
    return done.returncode, done.stderr


EACH_INTERRUPTED = """
import itertools, os, signal, sys

TOLD, PLACES = os.environ["TOLD"], itertools.count()

class Interrupting:
    def find_spec(self, name, path=None, target=None):
        if "coach.cli.main" not in sys.modules or name.partition(".")[0] != "coach":
            return
        if next(PLACES) % 4:
            return
        child = os.fork()
        if child:
            status = os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])
            os.rename(f"{TOLD}/{name}", f"{TOLD}/{name} {status}")
            return
        sys.meta_path.remove(self)
        os.dup2(os.open(f"{TOLD}/{name}", os.O_WRONLY | os.O_CREAT), 2)
        signal.raise_signal(signal.SIGINT)

sys.meta_path.insert(0, Interrupting())
"""


def test_ctrl_c_while_modules_load_is_told_in_a_sentence(tmp_path: Path) -> None:
    """At every fourth of them, the first included, each in a copy of the process that loads."""
    (tmp_path / "sitecustomize.py").write_text(EACH_INTERRUPTED, encoding="utf-8")
    told = tmp_path / "told"
    told.mkdir()
    path = f"{tmp_path}{os.pathsep}{ROOT}"
    seen = {"PYTHONPATH": path, "TOLD": str(told)}
    done = coach_started("plan", "reed-keyring", environment=seen, check=True)
    assert "Cut" in done.stdout
    ended = {file.name: file.read_text(encoding="utf-8") for file in told.iterdir()}
    assert len(ended) > 15
    assert {(name.split()[1], said) for name, said in ended.items()} == {("130", STOPPED)}


@pytest.mark.parametrize("verb", COMMANDS)
def test_ctrl_c_stops_every_verb_with_a_sentence(
    verb: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """When its module is about to be loaded."""

    def pressed(name: str, *_: object) -> None:
        if name == module:
            signal.raise_signal(signal.SIGINT)

    arguments = next(call for call in ALL if call and call[0] == verb)
    module = f"coach.cli.commands.{COMMANDS[verb].module}"
    monkeypatch.delitem(sys.modules, module, raising=False)
    monkeypatch.setattr(sys, "meta_path", [SimpleNamespace(find_spec=pressed), *sys.meta_path])
    done = coach(*arguments, cwd=tmp_path)
    assert (done.returncode, done.stderr) == (130, STOPPED)


def test_ctrl_c_that_something_else_was_made_of_is_told_the_same(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Before Python 3.12 one that comes while a class is made is turned into RuntimeError."""

    def broken(_options: object) -> int:
        try:
            signal.raise_signal(signal.SIGINT)
        except KeyboardInterrupt as stopped:
            raise RuntimeError("__set_name__") from stopped

    monkeypatch.setattr(import_module("coach.cli.commands.sizes"), "run", broken)
    done = coach("sizes")
    assert (done.returncode, done.stderr) == (130, STOPPED)


def test_ctrl_c_at_the_end_changes_nothing(tmp_path: Path) -> None:
    assert interrupted(tmp_path, "the end", "how", "half", "knot") == (0, "")


def test_ctrl_c_at_a_question_is_told_in_a_sentence(tmp_path: Path) -> None:
    with coach_forked("new", "new.yaml", cwd=tmp_path) as process:
        assert process.stdout.read(4) == "What"
        process.send_signal(signal.SIGINT)
        assert process.wait() == 130
        assert process.stderr.read() == STOPPED
    assert not (tmp_path / "new.yaml").exists()


def test_the_program_that_is_installed_is_the_command_line() -> None:
    """What `coach` on the path runs, as the package declares it, is something to call."""
    declared = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    module, _, name = declared["project"]["scripts"]["coach"].partition(":")
    assert callable(getattr(import_module(module), name))
    script = f"from {module} import {name}\nraise SystemExit({name}(['--version']))"
    assert run_python("-c", script, check=True).stdout.startswith("coach ")
